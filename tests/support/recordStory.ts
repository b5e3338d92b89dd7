import { RecordBook } from '../../src/app/record.svelte.ts';
import type { RecordSettings } from '../../src/app/recordSettings.ts';
import type { Author, EntryDrafted, Fact, LedgerEvent } from '../../src/charting/events.ts';
import { byTime } from '../../src/charting/fold.ts';
import { strictRules, type ReviewRules } from '../../src/charting/reviewRules.ts';
import { eightHourShifts } from '../../src/charting/shifts.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { MemoryLedger } from '../../src/storage/memoryLedger.ts';
import { Recorder } from '../../src/storage/recorder.ts';
import { aide, at, digest, draftFact, newId, storyStart } from './ledgerStory.ts';

const minute = 60_000;

/** A unit of two beds that runs 07–15–23 in UTC. */
export const storySettings: RecordSettings = {
  beds: ['Bed 4', 'Bed 5'],
  containers: [
    {
      id: 'graduate-1000',
      label: 'Graduate 1000 mL',
      kind: 'graduate',
      capacity: millilitres(1000),
      lineStep: millilitres(25),
    },
  ],
  bags: [],
  plan: { zone: 'UTC', shifts: eightHourShifts, dayFrom: '07:00' },
  rules: strictRules,
  lateAfter: 15 * minute,
};

/** A record in memory with a clock that the test moves, and one or more devices that write to it. */
export class RecordStory {
  readonly ledger: MemoryLedger;
  readonly book: RecordBook;
  readonly #recorder: Recorder;
  ms = storyStart + 60 * minute;

  constructor(rules: ReviewRules = strictRules) {
    this.ledger = new MemoryLedger(() => rules);
    this.#recorder = this.device();
    this.book = new RecordBook({
      ledger: this.ledger,
      recorder: this.#recorder,
      rules: () => rules,
      now: () => at(this.ms),
    });
  }

  /** Another device of the wing that writes into the same ledger. */
  device(): Recorder {
    return new Recorder({
      ledger: this.ledger,
      device: newId(),
      digest,
      now: () => at(this.ms),
      random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)),
      after: () => () => undefined,
    });
  }

  async write(by: Author, fact: Fact, device = this.#recorder): Promise<LedgerEvent> {
    const recorded = await device.record(by, [fact]);
    if (recorded.kept !== 'stored') throw new Error(`not stored: ${recorded.kept}`);
    const [event] = recorded.events;
    if (event === undefined) throw new Error('nothing written');
    return event;
  }

  /** An entry read so many minutes after the story began, recorded at once. */
  async draft(after: number, over: Partial<EntryDrafted> = {}): Promise<EntryDrafted> {
    const fact = draftFact({ readAt: at(storyStart + after * minute), ...over });
    const now = this.ms;
    this.ms = storyStart + (after + 1) * minute;
    await this.write(aide, fact);
    this.ms = Math.max(now, this.ms);
    return fact;
  }

  /** Everything that was written, oldest first. */
  async events(): Promise<readonly LedgerEvent[]> {
    const page = await this.ledger.read(null, 10_000);
    if (!page.ok) throw new Error(page.fault);
    return [...page.value.events].sort(byTime);
  }
}
