import { promisifyRequest } from 'idb-keyval';
import type { Tail } from '../charting/chain.ts';
import type { LedgerEvent } from '../charting/events.ts';
import { groupOf, indexOf, type GroupKind } from '../charting/group.ts';
import type { ReviewRules } from '../charting/reviewRules.ts';
import { openJson, sealJson, type Cipher } from './cipher.ts';
import type { Database } from './database.ts';
import { faultOf, StorageFaultError } from './storageFault.ts';
import type { Appended, GroupQuery, Ledger, Page, Place, Result, Unreadable } from './ledger.ts';
import { Listeners } from './listeners.ts';
import { merged } from './merge.ts';
import { movedKey } from './stateStore.ts';

interface EventRow {
  readonly group: string;
  readonly id: string;
  readonly device: string;
  readonly seq: number;
  /** The whole event as sealed JSON. */
  readonly body: Uint8Array<ArrayBuffer>;
}

/** A group's index; made from its events, and made again whenever it grows. */
interface GroupRow {
  readonly group: string;
  readonly kind: GroupKind;
  /** The bed's tag by the cipher, never its label where the record is sealed. */
  readonly bed: string;
  readonly ms: number;
}

/** What an append makes of a group: its row, and whether that stood among the waiting, and stands. */
interface Placed {
  readonly row: GroupRow;
  /** False when its row says the same as before: most decisions move nothing. */
  readonly moved: boolean;
  readonly waits: boolean;
  /** Its key among the waiting before, or null. */
  readonly waited: [GroupKind, number, string] | null;
}

const raced = Symbol('raced');

/** How often an append starts over when another tab was quicker; then something is wrong. */
const mostTries = 10;

/** Where the number of appends stands: who sees another number than it read starts over. */
const appendsKey = 'appends';

/**
 * The ledger on IndexedDB.
 *
 * Events are added and never put: a key that is there is refused by the store itself. Beside them
 * stands one index row a group, made from the group's events in the same transaction, so that a day
 * is found without the rest of the record.
 */
export class BrowserLedger implements Ledger {
  readonly #database: Database;
  readonly #cipher: Cipher;
  readonly #rules: () => ReviewRules;
  readonly #listeners = new Listeners<readonly string[]>();
  #last: Promise<unknown> = Promise.resolve();

  constructor(database: Database, cipher: Cipher, rules: () => ReviewRules) {
    this.#database = database;
    this.#cipher = cipher;
    this.#rules = rules;
  }

  /** Appends are done one after the other, in the order asked for. */
  append(events: readonly LedgerEvent[]): Promise<Result<Appended>> {
    const turn = this.#last.then(() => this.#append(events));
    this.#last = turn;
    return turn;
  }

  async groups(query: GroupQuery): Promise<Result<readonly (readonly LedgerEvent[])[]>> {
    const { kind, span, open, limit } = query;
    const from = span?.from ?? 0;
    const to = span?.to ?? Infinity;
    const bed = query.bed === undefined ? undefined : await this.#cipher.tag(query.bed);
    // Keys end with the group's id, so [head, ms] lies before and [head, ms, []] behind all of ms.
    const head = open === true || bed === undefined ? [kind] : [kind, bed];
    const range = IDBKeyRange.bound([...head, from], [...head, to], false, true);
    const both = open === true && bed !== undefined;
    const stores = ['events', 'groups', 'waiting'] as const;
    const rows = await this.#database.use(stores, 'readonly', async (tx) => {
      const groups =
        open === true
          ? tx.objectStore('waiting')
          : tx.objectStore('groups').index(bed === undefined ? 'time' : 'bed');
      const found = await promisifyRequest<GroupRow[]>(
        groups.getAll(range, both ? undefined : limit),
      );
      const wanted = both ? found.filter((row) => row.bed === bed).slice(0, limit) : found;
      const events = tx.objectStore('events');
      return Promise.all(
        wanted.map(({ group }) => promisifyRequest<EventRow[]>(events.getAll(rangeOf(group)))),
      );
    });
    return this.#opened(rows, (lists) => Promise.all(lists.map((list) => this.#eventsOf(list))));
  }

  async group(id: string): Promise<Result<readonly LedgerEvent[]>> {
    const rows = await this.#rowsOf([id]);
    return this.#opened(rows, ([list]) => this.#eventsOf(list ?? []));
  }

  countOpen(kind: GroupKind): Promise<Result<number>> {
    const range = IDBKeyRange.bound([kind], [kind, []]);
    return this.#database.use(['waiting'], 'readonly', (tx) =>
      promisifyRequest(tx.objectStore('waiting').count(range)),
    );
  }

  async tail(device: string): Promise<Result<Tail | null>> {
    const row = await this.#database.use(['events'], 'readonly', async (tx) => {
      const chain = tx.objectStore('events').index('chain');
      const range = IDBKeyRange.bound([device], [device, []]);
      const cursor = await promisifyRequest(chain.openCursor(range, 'prev'));
      return cursor === null ? null : (cursor.value as EventRow);
    });
    return this.#opened(row, async (last) => {
      if (last === null) return null;
      const [event] = await this.#eventsOf([last]);
      return event === undefined ? null : { seq: event.seq, hash: event.hash, ms: event.at.ms };
    });
  }

  async read(after: Place | null, limit: number): Promise<Result<Page> | Unreadable> {
    const range = after && IDBKeyRange.lowerBound([after.device, after.seq], true);
    const rows = await this.#database.use(['events'], 'readonly', (tx) =>
      promisifyRequest<EventRow[]>(
        tx
          .objectStore('events')
          .index('chain')
          .getAll(range, limit + 1),
      ),
    );
    const page = await this.#opened(rows, async (list) => {
      const last = list[limit - 1];
      const next = list.length > limit && last ? { device: last.device, seq: last.seq } : null;
      return { events: await this.#eventsOf(list.slice(0, limit)), next };
    });
    if (page.ok || page.fault !== 'seal_broken' || !rows.ok) return page;
    return (await this.#firstUnreadable(rows.value.slice(0, limit))) ?? page;
  }

  async #firstUnreadable(rows: readonly EventRow[]): Promise<Unreadable | null> {
    const before: LedgerEvent[] = [];
    for (const row of rows) {
      const alone = await this.#opened({ ok: true, value: [row] }, (one) => this.#eventsOf(one));
      const { device, seq } = row;
      if (!alone.ok) return { ok: false, fault: 'seal_broken', at: { device, seq }, before };
      before.push(...alone.value);
    }
    return null;
  }

  count(): Promise<Result<number>> {
    return this.#database.use(['events'], 'readonly', (tx) =>
      promisifyRequest(tx.objectStore('events').count()),
    );
  }

  subscribe(listener: (groups: readonly string[]) => void): () => void {
    return this.#listeners.add(listener);
  }

  async #append(events: readonly LedgerEvent[]): Promise<Result<Appended>> {
    try {
      for (let tries = 0; tries < mostTries; tries += 1) {
        const done = await this.#tryAppend(events);
        if (done !== raced) return done;
      }
      return { ok: false, fault: 'storage_failed' };
    } catch (error) {
      return { ok: false, fault: faultOf(error) };
    }
  }

  async #tryAppend(events: readonly LedgerEvent[]): Promise<Result<Appended> | typeof raced> {
    const ids = [...new Set(events.map(groupOf))];
    const before = await this.#database.use(['state'], 'readonly', (tx) =>
      promisifyRequest<number | undefined>(tx.objectStore('state').get(appendsKey)),
    );
    if (!before.ok) return before;
    const rows = await this.#rowsOf(ids);
    if (!rows.ok) return rows;
    const kept = await Promise.all(rows.value.map((list) => this.#eventsOf(list)));
    const union = merged(kept.flat(), events);
    if (!union.ok) return union;
    const { fresh, added, known } = union.value;
    if (added === 0) return { ok: true, value: { added, known } };

    const eventRows = await Promise.all([...fresh.values()].flat().map((it) => this.#rowOf(it)));
    const placed = await Promise.all(
      ids.flatMap((id, place) => {
        const some = fresh.get(id);
        return some === undefined ? [] : [this.#placed(kept[place] ?? [], some)];
      }),
    );
    const race = { lost: false };
    const stores = ['events', 'groups', 'waiting', 'state'] as const;
    const written = await this.#database.use(stores, 'readwrite', (tx) => {
      const state = tx.objectStore('state');
      const appends = state.get(appendsKey);
      appends.onsuccess = () => {
        // Without the writer's lock another tab may have added to a group since we read it.
        if (appends.result === before.value) return;
        race.lost = true;
        tx.abort();
      };
      const moved = state.get(movedKey);
      moved.onsuccess = () => {
        // The record was sealed from another tab: what came here now would stand in the clear, unread.
        if (moved.result !== undefined) tx.abort();
      };
      const events = tx.objectStore('events');
      for (const row of eventRows) events.add(row);
      const groups = tx.objectStore('groups');
      const waiting = tx.objectStore('waiting');
      for (const { row, moved, waits, waited } of placed) {
        if (moved) groups.put(row);
        if (waited !== null) waiting.delete(waited);
        if (waits) waiting.put(row);
      }
      state.put((before.value ?? 0) + 1, appendsKey);
      return Promise.resolve();
    });
    if (race.lost) return raced;
    if (!written.ok) return written;
    this.#listeners.tell([...fresh.keys()]);
    return { ok: true, value: { added, known } };
  }

  #rowsOf(ids: readonly string[]): Promise<Result<EventRow[][]>> {
    return this.#database.use(['events'], 'readonly', (tx) => {
      const store = tx.objectStore('events');
      return Promise.all(ids.map((id) => promisifyRequest(store.getAll(rangeOf(id)))));
    });
  }

  async #rowOf(event: LedgerEvent): Promise<EventRow> {
    const { id, device, seq } = event;
    return { group: groupOf(event), id, device, seq, body: await sealJson(this.#cipher, event) };
  }

  async #placed(kept: readonly LedgerEvent[], coming: readonly LedgerEvent[]): Promise<Placed> {
    const before = kept.length === 0 ? null : indexOf(kept, this.#rules());
    const { group, kind, bed, ms, open } = indexOf([...kept, ...coming], this.#rules());
    const row = { group, kind, bed: await this.#cipher.tag(bed), ms };
    const moved = before?.kind !== kind || before.bed !== bed || before.ms !== ms;
    const waited = before?.open === 1 ? before : null;
    return { row, moved, waits: open === 1, waited: waited && [waited.kind, waited.ms, group] };
  }

  #eventsOf(rows: readonly EventRow[]): Promise<LedgerEvent[]> {
    return Promise.all(
      rows.map(async ({ body }) => {
        const opened = await openJson(this.#cipher, body);
        // What was sealed here was an event; where one was changed, the chain says which.
        if (isEvent(opened)) return opened;
        throw new StorageFaultError('seal_broken');
      }),
    );
  }

  async #opened<T, U>(rows: Result<T>, open: (value: T) => Promise<U>): Promise<Result<U>> {
    if (!rows.ok) return rows;
    try {
      return { ok: true, value: await open(rows.value) };
    } catch (error) {
      const fault = error instanceof StorageFaultError ? error.fault : 'seal_broken';
      return { ok: false, fault };
    }
  }
}

/** True for what has the place of an event; its other fields are the chain's to vouch for. */
function isEvent(value: unknown): value is LedgerEvent {
  if (typeof value !== 'object' || value === null) return false;
  const { id, device, seq, hash } = value as Partial<Record<keyof LedgerEvent, unknown>>;
  const texts = [id, device, hash].every((it) => typeof it === 'string');
  return texts && typeof seq === 'number';
}

/** All events of a group: keys are [group, id], and an array sorts behind every text. */
function rangeOf(group: string): IDBKeyRange {
  return IDBKeyRange.bound([group], [group, []]);
}
