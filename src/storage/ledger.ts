import type { Tail } from '../charting/chain.ts';
import type { LedgerEvent } from '../charting/events.ts';
import type { GroupKind } from '../charting/group.ts';
import type { Span } from '../charting/shifts.ts';

/** What the world may do to a store. Each stands in the error catalogue. */
export type StorageFault =
  /** No room is left. */
  | 'storage_full'
  /** The browser allows no storage here: a private window, a policy. */
  | 'storage_refused'
  /** Another tab holds the old form of the record open. */
  | 'storage_blocked'
  /** The connection was closed, and could not be opened again. */
  | 'storage_closed'
  /** The record that was here is gone: the browser, or a person, cleaned up. */
  | 'storage_vanished'
  /** A newer version of this program made the record. */
  | 'storage_newer'
  | 'storage_failed'
  /** Another tab of this browser is the writer. */
  | 'not_writer'
  /** An event with this id is kept already, and says something else. */
  | 'event_differs'
  /** This place in the device's chain is taken by another event. */
  | 'chain_forked'
  /** What is stored can not be opened with the key at hand. */
  | 'seal_broken';

export type Result<T, F = StorageFault> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly fault: F };

export interface Appended {
  readonly added: number;
  /** Events that were kept already; sending twice changes nothing. */
  readonly known: number;
}

/** Groups of one kind, by time. An entry stands at its reading. */
export interface GroupQuery {
  readonly kind: GroupKind;
  readonly span?: Span;
  readonly bed?: string;
  /** Only what waits: for a reviewer, for a nurse, for its end. */
  readonly open?: boolean;
  /** The first so many by time, 1 or more. */
  readonly limit?: number;
}

/** Where reading a ledger chain by chain goes on. */
export interface Place {
  readonly device: string;
  readonly seq: number;
}

export interface Page {
  readonly events: readonly LedgerEvent[];
  /** Null at the end. */
  readonly next: Place | null;
}

/** A part that holds an event which can not be opened, and where the first such event lies. */
export interface Unreadable {
  readonly ok: false;
  readonly fault: 'seal_broken';
  readonly at: Place;
  /** The events of the part that lie before it. */
  readonly before: readonly LedgerEvent[];
}

/**
 * The port to the record: a set of events that only grows.
 *
 * Events may come from other devices and in any order; an event is kept once. Either all events of
 * an `append` are kept or none. It is read by group, so that a day costs what the day holds.
 */
export interface Ledger {
  append(events: readonly LedgerEvent[]): Promise<Result<Appended>>;
  /** The events of each group that fits, groups by time. */
  groups(query: GroupQuery): Promise<Result<readonly (readonly LedgerEvent[])[]>>;
  /** The events of one group; empty where there is none. */
  group(id: string): Promise<Result<readonly LedgerEvent[]>>;
  /** How many groups of a kind wait. */
  countOpen(kind: GroupKind): Promise<Result<number>>;
  tail(device: string): Promise<Result<Tail | null>>;
  /**
   * The whole ledger in parts: by device, then by place in its chain.
   *
   * @param after - null to begin
   * @param limit - events a part, 1 or more
   */
  read(after: Place | null, limit: number): Promise<Result<Page> | Unreadable>;
  count(): Promise<Result<number>>;
  /** Called with the ids of the groups that grew, after they are kept. Returns the way to stop. */
  subscribe(listener: (groups: readonly string[]) => void): () => void;
}
