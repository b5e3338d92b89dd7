import { get, promisifyRequest, type UseStore } from 'idb-keyval';
import { openJson, sealJson, type Cipher } from './cipher.ts';
import type { Database } from './database.ts';
import type { Result } from './ledger.ts';
import { faultOf, StorageFaultError } from './storageFault.ts';

/** What is kept beside the record and may be overwritten: the unfinished walk, practice, the settings. */
export const stateKeys = [
  'walk',
  'practice',
  'settings',
  'picks',
  'device',
  'look',
  'idle',
] as const;

export type StateKey = (typeof stateKeys)[number];

/**
 * Stands in a database whose record was sealed and moved elsewhere: nothing more is written here, also
 * not by a tab that was open before.
 */
export const movedKey = 'moved';

/**
 * Small values that are replaced, on the same database as the ledger.
 *
 * The values are sealed like the record. Their shape is for the caller to check: an older version of
 * the program may have written them.
 */
export class StateStore {
  readonly #database: Database;
  readonly #cipher: Cipher;
  readonly #use: UseStore;
  readonly #writes: () => boolean;

  /** @param writes - false while another tab is the writer */
  constructor(database: Database, cipher: Cipher, writes: () => boolean = () => true) {
    this.#database = database;
    this.#cipher = cipher;
    this.#use = storeOf(database);
    this.#writes = writes;
  }

  /** Done when the disk has it. */
  async put(key: StateKey, value: unknown): Promise<Result<void>> {
    return tried(async () => {
      const sealed = await sealJson(this.#cipher, value);
      return this.#change((state) => state.put(sealed, key));
    });
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
    return tried(() => this.#change((state) => state.delete(key)));
  }

  async #change(change: (state: IDBObjectStore) => void): Promise<void> {
    if (!this.#writes()) throw new StorageFaultError('not_writer');
    const write = async (tx: IDBTransaction): Promise<void> => {
      const state = tx.objectStore('state');
      const moved = await promisifyRequest<unknown>(state.get(movedKey));
      if (moved === undefined) change(state);
      else tx.abort(); // reads as closed, and asks for a reload
    };
    // The next state of a walk must not wait for the spare to have this one.
    const done = await this.#database.use(['state'], 'readwrite', write, false);
    if (!done.ok) throw new StorageFaultError(done.fault);
  }
}

/** An idb-keyval store with strict durability, which its own `createStore` can not ask for. */
function storeOf(database: Database): UseStore {
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
