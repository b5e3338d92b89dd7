import type { Author, Fact, LedgerEvent, Role } from '../charting/events.ts';
import type { WalkContext } from '../conversation/walkContext.ts';
import type { Moment } from '../measure/moment.ts';
import type { Ledger } from '../storage/ledger.ts';
import type { Recorder } from '../storage/recorder.ts';
import { alertFacts, entryFacts } from './entryFacts.ts';

export interface WriterPorts {
  readonly ledger: Pick<Ledger, 'group'>;
  readonly recorder: Pick<Recorder, 'record' | 'retry' | 'newId' | 'state'>;
  /** Role of whoever is signed in. */
  readonly role: () => Role;
}

/** The record did not take it yet; the code is the store's fault. */
export class NotWrittenError extends Error {
  override readonly name = 'NotWrittenError';
}

/**
 * Writes a walk into the record, each thing once however often it is asked to.
 *
 * A page that died between the record and the walk finds its entry in the ledger; a device that
 * refuses has it in the recorder's memory, which is tried again and not added to.
 */
export class WalkWriter {
  readonly #ports: WriterPorts;

  constructor(ports: WriterPorts) {
    this.#ports = ports;
  }

  /** @returns when the entry was recorded. @throws {NotWrittenError} while the device refuses */
  async save(context: WalkContext): Promise<Moment> {
    const { ledger, recorder } = this.#ports;
    const known = await ledger.group(context.ids.entry);
    const drafted = known.ok ? known.value.find(isDraft) : undefined;
    if (drafted !== undefined) return drafted.at;
    const isThis = (event: LedgerEvent) => isDraft(event) && event.entry === context.ids.entry;
    if (recorder.state.unsaved.some(isThis)) {
      const state = await recorder.retry();
      if (state.unsaved.some(isThis)) throw new NotWrittenError(state.fault ?? 'storage_failed');
      return this.save(context);
    }
    const events = await this.#record(context, await this.#unknown(entryFacts(context)));
    const draft = events.find(isDraft);
    if (draft === undefined) throw new Error('entry_without_draft: the facts of a walk hold one');
    return draft.at;
  }

  /** @throws {NotWrittenError} while the device refuses */
  async raise(context: WalkContext): Promise<void> {
    const facts = await this.#unknown(alertFacts(context));
    if (facts.length > 0) await this.#record(context, facts);
  }

  /**
   * The facts without the alerts that are in the record or on their way to it. Where a walk came back
   * without an alert that the record has, the next one has its id, and gets another.
   */
  async #unknown(facts: readonly Fact[]): Promise<Fact[]> {
    const { ledger, recorder } = this.#ports;
    const found: Fact[] = [];
    for (const fact of facts) {
      if (fact.type !== 'alert.raised') {
        found.push(fact);
        continue;
      }
      const kept = await ledger.group(fact.alert);
      const group = [...(kept.ok ? kept.value : []), ...recorder.state.unsaved];
      const same = group.find(
        (event) => event.type === 'alert.raised' && event.alert === fact.alert,
      );
      if (same === undefined) found.push(fact);
      else if (same.type === 'alert.raised' && same.words !== fact.words)
        found.push({ ...fact, alert: recorder.newId() });
    }
    return found;
  }

  async #record({ initials }: WalkContext, facts: readonly Fact[]) {
    const by: Author = { initials, role: this.#ports.role() };
    const recorded = await this.#ports.recorder.record(by, facts);
    if (recorded.kept !== 'stored') throw new NotWrittenError(recorded.fault);
    return recorded.events;
  }
}

const isDraft = (event: LedgerEvent) => event.type === 'entry.drafted';
