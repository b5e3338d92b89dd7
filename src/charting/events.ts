import type { FluidKind } from '../measure/fluid.ts';
import type { Moment } from '../measure/moment.ts';
import type { Millilitres } from '../measure/volume.ts';
import type { Amount } from './amount.ts';
import type { Evidence } from './evidence.ts';

/** Schema version that this program writes. Events of an older version are read; newer ones refused. */
export const ledgerVersion = 1;

export type Role = 'aide' | 'nurse' | 'setup';

export interface Author {
  /** As on the unit's roster, 1 to 4 letters. */
  readonly initials: string;
  readonly role: Role;
}

/**
 * What every event of the ledger carries.
 *
 * The ledger is a grow-only set: merging is a union, and events of several devices arrive in any
 * order. `prev` and `hash` chain the events of one device, so that what was edited, taken out or put
 * in another order is found.
 */
export interface EventBase {
  /** Schema version, {@link ledgerVersion}. */
  readonly v: number;
  /** UUIDv7: unique across devices, ordered by time. */
  readonly id: string;
  /** Author device; a UUID made when the app first opens there. */
  readonly device: string;
  /** Place in this device's chain, from 1, without gaps. */
  readonly seq: number;
  /** Hash of this device's event before, null for its first. */
  readonly prev: string | null;
  /** SHA-256, hex, of the canonical JSON of this event without `hash`. */
  readonly hash: string;
  /** When it was recorded; never the time of the reading. */
  readonly at: Moment;
  readonly by: Author;
}

/** An entry leaves the walk, or is typed. What is not known yet is null, never a guess. */
export interface EntryDrafted {
  readonly type: 'entry.drafted';
  /** Id of the entry, a UUIDv7. */
  readonly entry: string;
  readonly walk: string | null;
  readonly bed: string | null;
  readonly kind: FluidKind | null;
  /** Null while the reading is parked: see `candidates`. */
  readonly amount: Amount | null;
  /** Volumes that may have been meant, mL. Empty once settled. */
  readonly candidates: readonly Millilitres[];
  /** When the level was read. */
  readonly readAt: Moment | null;
  /** Initials of the person who read the level. */
  readonly reader: string | null;
  readonly procedure: string | null;
  readonly container: string | null;
  readonly bag: string | null;
  readonly evidence: Evidence | null;
  readonly note: string;
}

/** The fields that an amendment may change, each with what stood there before. */
export interface EntryChanges {
  readonly amount?: Change<Amount | null, Amount>;
  readonly kind?: Change<FluidKind | null, FluidKind>;
  readonly readAt?: Change<Moment | null, Moment>;
  readonly bed?: Change<string | null, string>;
  readonly reader?: Change<string | null, string>;
}

export interface Change<Old, New> {
  readonly was: Old;
  readonly is: New;
}

/** Every decision names the version it was made on: the event id that stood last when it was made. */
interface Decision {
  readonly entry: string;
  /** `Entry.head` that the person saw. A decision on an older version is refused and told. */
  readonly saw: string;
}

export interface EntryConfirmed extends Decision {
  readonly type: 'entry.confirmed';
}

export interface EntryAmended extends Decision {
  readonly type: 'entry.amended';
  readonly changes: EntryChanges;
  readonly reason: string;
}

export interface EntryStruck extends Decision {
  readonly type: 'entry.struck';
  readonly reason: string;
}

/** Takes back the last decision, which is also the version seen. The record keeps both. */
export interface DecisionUndone extends Decision {
  readonly type: 'decision.undone';
  /** Id of the decision taken back; the same as `saw`. */
  readonly undoes: string;
}

export interface EntryViewed {
  readonly type: 'entry.viewed';
  readonly entry: string;
}

/** Someone opened a page that shows the record. */
export interface PageViewed {
  readonly type: 'page.viewed';
  readonly page: 'queue' | 'sheet' | 'wing' | 'handover' | 'export' | 'search';
  /** Null for a page of the whole wing. */
  readonly bed: string | null;
}

/** "Tell the nurse": raised by a finding or by the aide. */
export interface AlertRaised {
  readonly type: 'alert.raised';
  readonly alert: string;
  readonly code: string;
  /** What to tell, as it was said and shown. */
  readonly words: string;
  readonly bed: string | null;
  readonly walk: string | null;
  readonly entry: string | null;
}

/** A nurse took it. */
export interface AlertTaken {
  readonly type: 'alert.taken';
  readonly alert: string;
  readonly note: string;
}

export interface WalkStarted {
  readonly type: 'walk.started';
  readonly walk: string;
  readonly procedure: string;
  readonly bed: string | null;
}

export interface WalkEnded {
  readonly type: 'walk.ended';
  readonly walk: string;
  readonly outcome: 'completed' | 'abandoned';
  /** Why it was abandoned; empty otherwise. */
  readonly reason: string;
}

/** A wrong PIN, an unlock, a take-over: what the unit wants to see afterwards. */
export interface LockNoted {
  readonly type: 'lock.noted';
  readonly what: 'unlocked' | 'locked' | 'refused' | 'recovered';
  /** How many wrong tries stand behind `refused`, and when the last of them was. */
  readonly tries?: number;
  readonly lastTry?: Moment;
}

/** What happened, without the chain around it. The recorder adds the rest. */
export type Fact =
  | EntryDrafted
  | EntryConfirmed
  | EntryAmended
  | EntryStruck
  | DecisionUndone
  | EntryViewed
  | PageViewed
  | AlertRaised
  | AlertTaken
  | WalkStarted
  | WalkEnded
  | LockNoted;

type Chained<F> = F extends Fact ? EventBase & F : never;

/** One line of the ledger. */
export type LedgerEvent = Chained<Fact>;
export type EventOf<T extends Fact['type']> = Extract<LedgerEvent, { type: T }>;
export type DecisionEvent = EventOf<
  'entry.confirmed' | 'entry.amended' | 'entry.struck' | 'decision.undone'
>;
