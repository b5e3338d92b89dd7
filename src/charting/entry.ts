import type { FluidKind } from '../measure/fluid.ts';
import type { Moment } from '../measure/moment.ts';
import type { Amount } from './amount.ts';
import type { Author, DecisionEvent, EventOf, LedgerEvent } from './events.ts';
import type { EntryState, EntryStatus } from './status.ts';

export type EntryField = 'bed' | 'kind' | 'amount' | 'readAt' | 'reader';

/** Why the fold did not take an event. The event stays in the ledger and stands in the history. */
export type RefusalCode =
  /** The author's role may not do this: an aide does not confirm. */
  | 'role_forbids'
  /** Whoever drafted or read an entry does not confirm it, unless the unit allows it. */
  | 'reviewer_is_author'
  /** Another decision on the same version stood first. */
  | 'decided_already'
  /** The entry's status does not allow it: nothing follows entered-in-error. */
  | 'status_forbids'
  /** Kind, amount or unmeasured mark, time, bed or initials is missing. */
  | 'entry_incomplete'
  /** An amendment or a strike without a reason. */
  | 'reason_missing'
  /** An amendment that changes nothing, or names an old value that did not stand there. */
  | 'change_mismatch'
  /** Undoes something other than the last decision. */
  | 'undo_not_last'
  /** Undoes another person's decision; amend or strike instead. */
  | 'undo_not_own'
  /** The reading would lie after the moment it was recorded. */
  | 'reading_in_future'
  /** A second draft of the same entry. */
  | 'drafted_twice'
  /** The draft, or the version that the decision saw, has not arrived yet. */
  | 'version_unknown'
  /** Written by a newer version of this program. */
  | 'version_newer';

export interface Refusal {
  readonly event: LedgerEvent;
  readonly code: RefusalCode;
  /** The event that stood in its way, where one did. */
  readonly because: string | null;
}

/** A charting entry as its events make it. Never stored as such: the events are the record. */
export interface Entry {
  readonly id: string;
  /** The FHIR word of `state`. */
  readonly status: EntryStatus;
  readonly state: EntryState;
  /** Id of the last event that was taken; a decision names it as the version it saw. */
  readonly head: string;
  readonly bed: string | null;
  readonly kind: FluidKind | null;
  readonly amount: Amount | null;
  readonly readAt: Moment | null;
  readonly reader: string | null;
  /** The draft as it was made: evidence, procedure, vessel, candidates, note. */
  readonly draft: EventOf<'entry.drafted'>;
  /** What keeps it from leaving preliminary. */
  readonly missing: readonly EntryField[];
  /** Who confirmed it, or null. An amendment after that keeps it; taking it back does not. */
  readonly confirmedBy: Author | null;
  readonly confirmedAt: Moment | null;
  /** Recorded minus read, ms; null without a time. The unit's limit makes it "late". */
  readonly lag: number | null;
  /** What was taken, original first. */
  readonly history: readonly (EventOf<'entry.drafted'> | DecisionEvent)[];
  readonly views: readonly EventOf<'entry.viewed'>[];
  readonly refused: readonly Refusal[];
}
