import type { Author, Fact, LedgerEvent, Role } from '../charting/events.ts';
import type { WalkContext } from '../conversation/walkContext.ts';
import type { Moment } from '../measure/moment.ts';
import { InTurn } from '../storage/inTurn.ts';
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
  /** A second call before the first is through would find nothing of it, and write it again. */
  readonly #turns = new InTurn();

  constructor(ports: WriterPorts) {
    this.#ports = ports;
  }

  /** @returns when the entry was recorded. @throws {NotWrittenError} while the device refuses */
  save(context: WalkContext): Promise<Moment> {
    return this.#turns.run(() => this.#save(context));
  }

  /** @throws {NotWrittenError} while the device refuses */
  raise(context: WalkContext): Promise<void> {
    return this.#turns.run(async () => {
      const facts = await this.#unknown(alertFacts(context));
      if (facts.length > 0) await this.#record(context, facts);
    });
  }

  async #save(context: WalkContext): Promise<Moment> {
    const { recorder } = this.#ports;
    const isThis = (event: LedgerEvent) => isDraft(event) && event.entry === context.ids.entry;
    // What waits is tried first: then it is in one place only, and can not move while it is sought.
    if (recorder.state.unsaved.some(isThis)) {
      const state = await recorder.retry();
      if (state.unsaved.some(isThis)) throw new NotWrittenError(state.fault ?? 'storage_failed');
    }
    const drafted = (await this.#known(context.ids.entry)).find(isDraft);
    if (drafted !== undefined) return drafted.at;
    const events = await this.#record(context, await this.#unknown(entryFacts(context)));
    const draft = events.find(isDraft);
    if (draft === undefined) throw new Error('entry_without_draft: the facts of a walk hold one');
    return draft.at;
  }

  /**
   * The facts without the alerts that are in the record or on their way to it. Where a walk came back
   * without an alert that the record has, the next one has its id, and gets another.
   */
  async #unknown(facts: readonly Fact[]): Promise<Fact[]> {
    const { recorder } = this.#ports;
    const found: Fact[] = [];
    for (const fact of facts) {
      if (fact.type !== 'alert.raised') {
        found.push(fact);
        continue;
      }
      const same = (await this.#known(fact.alert)).find(
        (event) => event.type === 'alert.raised' && event.alert === fact.alert,
      );
      if (same === undefined) found.push(fact);
      else if (same.type === 'alert.raised' && same.words !== fact.words)
        found.push({ ...fact, alert: recorder.newId() });
    }
    return found;
  }

  /** A group of the record, and what waits: read first, as it may be in the record a moment later. */
  async #known(id: string): Promise<readonly LedgerEvent[]> {
    const { ledger, recorder } = this.#ports;
    const { unsaved } = recorder.state;
    const group = await ledger.group(id);
    return [...unsaved, ...(group.ok ? group.value : [])];
  }

  async #record({ initials }: WalkContext, facts: readonly Fact[]) {
    const by: Author = { initials, role: this.#ports.role() };
    const recorded = await this.#ports.recorder.record(by, facts);
    if (recorded.kept !== 'stored') throw new NotWrittenError(recorded.fault);
    return recorded.events;
  }
}

const isDraft = (event: LedgerEvent) => event.type === 'entry.drafted';
