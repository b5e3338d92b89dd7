import { promisifyRequest } from 'idb-keyval';
import { finished, storeNames, type StoreName } from '../openDatabase.ts';
import { halfKey, putTurns, turnKey } from './turns.ts';

const part = 1_000;
/** What says that a database is whole comes last, by itself. */
const ownKeys: readonly unknown[] = [turnKey, halfKey];

const atOnce = (work: () => Promise<void>): Promise<void> => work();

export interface CopyWay {
  /** Rows that only the target has stay. Else it has the same rows in the end, and no other. */
  readonly keepOthers?: boolean;
  /** Runs one part of the work, so that other writes can come between two. */
  readonly inTurn?: (work: () => Promise<void>) => Promise<void>;
}

/**
 * Fill a database with the rows of another. It has no turn until whoever asked for this gives it one:
 * left half way, it is known as not whole, and has lost nothing that the other has too.
 */
export async function copyRows(
  from: IDBDatabase,
  to: IDBDatabase,
  way: CopyWay = {},
): Promise<void> {
  const { keepOthers = false } = way;
  const inTurn = way.inTurn ?? atOnce;
  await inTurn(async () => {
    const begun = to.transaction('state', 'readwrite', { durability: 'strict' });
    const state = begun.objectStore('state');
    state.delete(turnKey);
    state.put(true, halfKey);
    await finished(begun);
  });
  for (const name of storeNames) {
    let after: IDBValidKey | undefined;
    do {
      await inTurn(async () => {
        after = await copyPart(from, to, name, after, keepOthers);
      });
    } while (after !== undefined);
  }
}

/** @returns the last key copied, or undefined where there are no more */
async function copyPart(
  from: IDBDatabase,
  to: IDBDatabase,
  name: StoreName,
  after: IDBValidKey | undefined,
  keepOthers: boolean,
): Promise<IDBValidKey | undefined> {
  const rest = after === undefined ? null : IDBKeyRange.lowerBound(after, true);
  const store = from.transaction(name).objectStore(name);
  const [keys, values] = await Promise.all([
    promisifyRequest(store.getAllKeys(rest, part)),
    promisifyRequest<unknown[]>(store.getAll(rest, part)),
  ]);
  const last = keys.length < part ? undefined : keys.at(-1);
  const copied = to.transaction(name, 'readwrite', { durability: 'relaxed' });
  const done = finished(copied);
  const target = copied.objectStore(name);
  if (!keepOthers) {
    const known = new Set(keys.map((key) => JSON.stringify(key)));
    for (const key of await promisifyRequest(target.getAllKeys(rangeOf(after, last)))) {
      if (!known.has(JSON.stringify(key)) && !ownKeys.includes(key)) target.delete(key);
    }
  }
  for (const [index, key] of keys.entries()) {
    if (name === 'state' && ownKeys.includes(key)) continue;
    target.put(values[index], ...(target.keyPath === null ? [key] : []));
  }
  await done;
  return last;
}

function rangeOf(after: IDBValidKey | undefined, last: IDBValidKey | undefined) {
  if (after === undefined) return last === undefined ? null : IDBKeyRange.upperBound(last);
  return last === undefined
    ? IDBKeyRange.lowerBound(after, true)
    : IDBKeyRange.bound(after, last, true);
}

/** From here on the database is whole: it has had so many writes. */
export async function setTurn(db: IDBDatabase, turn: number): Promise<void> {
  const done = db.transaction('state', 'readwrite', { durability: 'strict' });
  putTurns(done.objectStore('state'), { turn, recent: [] });
  done.objectStore('state').delete(halfKey);
  await finished(done);
}
