import type { Alert } from '../charting/alert.ts';
import type { Entry, RefusalCode } from '../charting/entry.ts';
import type { LedgerEvent } from '../charting/events.ts';

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
  /** False when nothing could be written; then nothing was changed. */
  readonly saved: boolean;
  /** How many were taken by the fold. */
  readonly taken: number;
  readonly refused: readonly Told[];
}
