import type { Tail } from '../charting/chain.ts';
import type { LedgerEvent } from '../charting/events.ts';
import { groupOf, indexOf, type GroupIndex, type GroupKind } from '../charting/group.ts';
import type { ReviewRules } from '../charting/reviewRules.ts';
import { within } from '../charting/shifts.ts';
import type { Appended, GroupQuery, Ledger, Page, Place, Result } from './ledger.ts';
import { Listeners } from './listeners.ts';
import { merged } from './merge.ts';

interface Group {
  readonly index: GroupIndex;
  readonly events: readonly LedgerEvent[];
}

/** A ledger that lives as long as the page: for practice, the demo and tests. */
export class MemoryLedger implements Ledger {
  readonly #groups = new Map<string, Group>();
  readonly #chains = new Map<string, Map<number, LedgerEvent>>();
  readonly #listeners = new Listeners<readonly string[]>();
  readonly #rules: () => ReviewRules;

  constructor(rules: () => ReviewRules) {
    this.#rules = rules;
  }

  append(events: readonly LedgerEvent[]): Promise<Result<Appended>> {
    const kept = [...new Set(events.map(groupOf))].flatMap((id) => this.#eventsOf(id));
    const union = merged(kept, events);
    if (!union.ok) return Promise.resolve(union);
    const { fresh, added, known } = union.value;
    const coming = [...fresh.values()].flat();
    const places = new Set(coming.map(({ device, seq }) => `${device} ${seq}`));
    const taken = coming.some(({ device, seq }) => this.#chains.get(device)?.has(seq) === true);
    if (taken || places.size < coming.length) {
      return Promise.resolve({ ok: false, fault: 'chain_forked' });
    }
    for (const event of coming) {
      const chain = this.#chains.get(event.device) ?? new Map<number, LedgerEvent>();
      this.#chains.set(event.device, chain.set(event.seq, event));
    }
    for (const [id, some] of fresh) {
      const all = [...this.#eventsOf(id), ...some].sort((a, b) => (a.id < b.id ? -1 : 1));
      this.#groups.set(id, { index: indexOf(all, this.#rules()), events: all });
    }
    if (added > 0) this.#listeners.tell([...fresh.keys()]);
    return Promise.resolve({ ok: true, value: { added, known } });
  }

  groups(query: GroupQuery): Promise<Result<readonly (readonly LedgerEvent[])[]>> {
    const { kind, span, bed, open, limit } = query;
    const found = [...this.#groups.values()]
      .filter(({ index }) => index.kind === kind)
      .filter(({ index }) => span === undefined || within(span, index.ms))
      .filter(({ index }) => bed === undefined || index.bed === bed)
      .filter(({ index }) => open !== true || index.open === 1)
      .sort((a, b) => a.index.ms - b.index.ms || (a.index.group < b.index.group ? -1 : 1));
    return Promise.resolve({
      ok: true,
      value: found.slice(0, limit ?? found.length).map(({ events }) => events),
    });
  }

  group(id: string): Promise<Result<readonly LedgerEvent[]>> {
    return Promise.resolve({ ok: true, value: this.#eventsOf(id) });
  }

  countOpen(kind: GroupKind): Promise<Result<number>> {
    const open = [...this.#groups.values()].filter(
      ({ index }) => index.kind === kind && index.open === 1,
    );
    return Promise.resolve({ ok: true, value: open.length });
  }

  tail(device: string): Promise<Result<Tail | null>> {
    const last = this.#chainOf(device).at(-1);
    const value = last === undefined ? null : { seq: last.seq, hash: last.hash, ms: last.at.ms };
    return Promise.resolve({ ok: true, value });
  }

  read(after: Place | null, limit: number): Promise<Result<Page>> {
    const rest = [...this.#chains.keys()]
      .sort()
      .flatMap((device) => this.#chainOf(device))
      .filter(
        ({ device, seq }) =>
          after === null || device > after.device || (device === after.device && seq > after.seq),
      );
    const events = rest.slice(0, limit);
    const last = events.at(-1);
    const next = rest.length > limit && last ? { device: last.device, seq: last.seq } : null;
    return Promise.resolve({ ok: true, value: { events, next } });
  }

  count(): Promise<Result<number>> {
    let value = 0;
    for (const chain of this.#chains.values()) value += chain.size;
    return Promise.resolve({ ok: true, value });
  }

  subscribe(listener: (groups: readonly string[]) => void): () => void {
    return this.#listeners.add(listener);
  }

  #eventsOf(id: string): readonly LedgerEvent[] {
    return this.#groups.get(id)?.events ?? [];
  }

  #chainOf(device: string): LedgerEvent[] {
    return [...(this.#chains.get(device)?.values() ?? [])].sort((a, b) => a.seq - b.seq);
  }
}
