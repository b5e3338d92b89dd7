import { promisifyRequest } from 'idb-keyval';
import { markKey } from '../openDatabase.ts';
import type { RowChange } from './rowChanges.ts';

/** Key in `state` of how many writes a database has had; without it, it is not whole. */
export const turnKey = 'turn';
/** Key in `state` of the last write, for a spare that missed it. */
export const lastKey = 'last';
/** Key in `state` of a database that is being filled with a copy. */
export const halfKey = 'half';

/** One write of a record. */
export interface Written {
  readonly turn: number;
  readonly changes: readonly RowChange[];
}

/** The last write of a record. */
export interface LastWrite {
  readonly turn: number;
  /** Null for more than is worth keeping twice. */
  readonly changes: readonly RowChange[] | null;
}

/** More changes than this are copied with the whole, where they were missed. */
const mostKept = 64;

/** Count a write in its own transaction. @param changes - all that it changes, which must be asked for by now */
export async function countTurn(
  state: IDBObjectStore,
  before: Promise<number | undefined>,
  changes: readonly RowChange[],
): Promise<Written> {
  const kept = [...changes];
  const turn = ((await before) ?? 0) + 1;
  const last = { turn, changes: kept.length > mostKept ? null : kept };
  state.put(turn, turnKey);
  state.put(last, lastKey);
  return { turn, changes: kept };
}

export const turnOf = (state: IDBObjectStore): Promise<number | undefined> =>
  promisifyRequest(state.get(turnKey));

/** How far a database is. */
export interface Standing {
  /** Which record it is. */
  readonly mark: unknown;
  readonly turn: number | undefined;
  readonly last: LastWrite | undefined;
  readonly isEmpty: boolean;
  /** A copy into it was begun and not ended. */
  readonly isHalf: boolean;
}

export async function standingOf(db: IDBDatabase): Promise<Standing> {
  const transaction = db.transaction(['state', 'events']);
  const state = transaction.objectStore('state');
  const [mark, turn, last, half, first] = await Promise.all([
    promisifyRequest<unknown>(state.get(markKey)),
    turnOf(state),
    promisifyRequest<LastWrite | undefined>(state.get(lastKey)),
    promisifyRequest<unknown>(state.get(halfKey)),
    promisifyRequest(transaction.objectStore('events').getAllKeys(null, 1)),
  ]);
  return { mark, turn, last, isEmpty: first.length === 0, isHalf: half !== undefined };
}
