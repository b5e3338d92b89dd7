import { promisifyRequest } from 'idb-keyval';
import { markKey } from '../openDatabase.ts';
import { touchedBy, type RowChange, type Touched } from './rowChanges.ts';

/** Key in `state` of how many writes a database has had; without it, it is not whole. */
export const turnKey = 'turn';
/** Key in `state` of a database that is being filled with a copy. */
export const halfKey = 'half';

/** One write of a record. */
export interface Written {
  readonly turn: number;
  readonly changes: readonly RowChange[];
}

/** How many writes a database has had, and which rows the last of them changed. */
export interface Turns {
  readonly turn: number;
  /** Oldest first. */
  readonly recent: readonly { readonly turn: number; readonly rows: readonly Touched[] }[];
}

/** So many writes, and so many rows of all of them, are worth naming; else the whole is copied. */
const mostWrites = 16;
const mostRows = 64;

/** Count a write in its own transaction. @param changes - all that it changes, asked for by now */
export async function countTurn(
  state: IDBObjectStore,
  before: Promise<Turns | undefined>,
  changes: readonly RowChange[],
): Promise<Written> {
  const asked = [...changes];
  const known = await before;
  const turn = (known?.turn ?? 0) + 1;
  const rows = touchedBy(state.transaction, asked);
  const named = [...(known?.recent ?? []), { turn, rows }].slice(-mostWrites);
  const few = named.reduce((sum, each) => sum + each.rows.length, 0) <= mostRows;
  putTurns(state, { turn, recent: few ? named : [] });
  return { turn, changes: asked };
}

export function putTurns(state: IDBObjectStore, turns: Turns): void {
  state.put(turns, turnKey);
}

export const turnsOf = (state: IDBObjectStore): Promise<Turns | undefined> =>
  promisifyRequest(state.get(turnKey));

/** The rows that the writes after a turn changed; null where they are no longer named. */
export function rowsAfter({ turn, recent }: Turns, after: number): readonly Touched[] | null {
  const missed = recent.filter((each) => each.turn > after);
  return missed.length === turn - after ? missed.flatMap(({ rows }) => rows) : null;
}

/** How far a database is. */
export interface Standing {
  /** Which record it is. */
  readonly mark: unknown;
  readonly turns: Turns | undefined;
  readonly isEmpty: boolean;
  /** A copy into it was begun and not ended. */
  readonly isHalf: boolean;
}

export async function standingOf(db: IDBDatabase): Promise<Standing> {
  const transaction = db.transaction(['state', 'events']);
  const state = transaction.objectStore('state');
  const [mark, turns, half, first] = await Promise.all([
    promisifyRequest<unknown>(state.get(markKey)),
    turnsOf(state),
    promisifyRequest<unknown>(state.get(halfKey)),
    promisifyRequest(transaction.objectStore('events').getAllKeys(null, 1)),
  ]);
  return { mark, turns, isEmpty: first.length === 0, isHalf: half !== undefined };
}
