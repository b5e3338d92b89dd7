import { del, get, set, type UseStore } from 'idb-keyval';
import { openJson, sealJson, type Cipher } from './cipher.ts';
import { faultOf, StorageFaultError, type Database } from './database.ts';
import type { Result } from './ledger.ts';

/** What is kept beside the record and may be overwritten: the unfinished walk, practice, the settings. */
export type StateKey = 'walk' | 'practice' | 'settings' | 'device' | 'look';

/**
 * Small values that are replaced, on the same database as the ledger.
 *
 * The values are sealed like the record. Their shape is for the caller to check: an older version of
 * the program may have written them.
 */
export class StateStore {
  readonly #cipher: Cipher;
  readonly #use: UseStore;

  constructor(database: Database, cipher: Cipher) {
    this.#cipher = cipher;
    this.#use = storeOf(database);
  }

  /** Done when the disk has it. */
  async put(key: StateKey, value: unknown): Promise<Result<void>> {
    return tried(async () => set(key, await sealJson(this.#cipher, value), this.#use));
  }

  /** The value, or undefined where nothing was put. */
  async take(key: StateKey): Promise<Result<unknown>> {
    return tried(async () => {
      const bytes = await get<Uint8Array<ArrayBuffer>>(key, this.#use);
      if (bytes === undefined) return undefined;
      return openJson(this.#cipher, bytes).catch(() => {
        throw new StorageFaultError('seal_broken');
      });
    });
  }

  async drop(key: StateKey): Promise<Result<void>> {
    return tried(() => del(key, this.#use));
  }
}

/** An idb-keyval store with strict durability, which its own `createStore` can not ask for. */
export function storeOf(database: Database): UseStore {
  return async (mode, callback) => {
    const done = await database.use(['state'], mode, async (tx) =>
      callback(tx.objectStore('state')),
    );
    if (!done.ok) throw new StorageFaultError(done.fault);
    return done.value;
  };
}

async function tried<T>(work: () => Promise<T>): Promise<Result<T>> {
  try {
    return { ok: true, value: await work() };
  } catch (error) {
    return { ok: false, fault: faultOf(error) };
  }
}
