import type { Alert } from '../charting/alert.ts';
import type { Entry, RefusalCode } from '../charting/entry.ts';
import type { LedgerEvent } from '../charting/events.ts';
import type { RecordFault, Recorded } from '../storage/recorder.ts';

export type OutcomeAct = 'confirm' | 'amend' | 'strike' | 'undo' | 'take';

/** A decision that the fold did not take, and who stood in its way. */
export interface Told {
  /** What it was about, as it stands now. */
  readonly about: Entry | Alert;
  readonly code: RefusalCode;
  /** The event that was first, where one was. */
  readonly first: LedgerEvent | null;
}

/** What became of a decision. */
export interface Outcome {
  readonly act: OutcomeAct;
  /** Where it is: on the disk, in this page only and tried again, or not taken at all. */
  readonly kept: Recorded['kept'];
  /** Why it was not taken, where `kept` is `refused`. */
  readonly fault: RecordFault | null;
  /** What the fold took, as it stands now. */
  readonly taken: readonly (Entry | Alert)[];
  readonly refused: readonly Told[];
}
