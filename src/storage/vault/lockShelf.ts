import { promisifyRequest } from 'idb-keyval';
import type { Database } from '../database.ts';
import type { Result } from '../ledger.ts';
import { movedKey } from '../stateStore.ts';
import { StorageFaultError } from '../storageFault.ts';

/** Key of the lock in the first database. What lies there is readable: it is needed to open the rest. */
const lockKey = 'lock';

/**
 * The lock of this device as it lies on its disk, in the database that every start opens first.
 *
 * While a lock lies there, the record is in another database, sealed; this one takes nothing more.
 */
export class LockShelf {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** The lock as it lies, for `lockOf` to check; undefined where the unit has none. */
  async take(): Promise<Result<unknown>> {
    return this.#database.use(['state'], 'readonly', (tx) =>
      promisifyRequest<unknown>(tx.objectStore('state').get(lockKey)),
    );
  }

  /** Put a changed lock in the place of the one that lies there. */
  async put(lock: unknown): Promise<Result<void>> {
    return this.#database.use(['state'], 'readwrite', async (tx) => {
      await promisifyRequest(tx.objectStore('state').put(lock, lockKey));
    });
  }

  /**
   * From here on the record is the sealed one. In one transaction, so that a page that dies here
   * leaves either the plain record or the lock: the plain one goes as the lock comes.
   *
   * @param events - how many the sealed record holds; nothing is done where the plain one holds others
   */
  async moveOut(lock: unknown, events: number): Promise<Result<void>> {
    return this.#emptied(events, (state) => {
      state.put(lock, lockKey);
      state.put(true, movedKey);
    });
  }

  /** Make room for the plain record to come back; the lock stays until `moveIn`. */
  async makeRoom(): Promise<Result<void>> {
    return this.#emptied(null, () => undefined);
  }

  /** The plain record is back, whole: the lock goes. */
  async moveIn(): Promise<Result<void>> {
    return this.#database.use(['state'], 'readwrite', async (tx) => {
      await promisifyRequest(tx.objectStore('state').delete(lockKey));
    });
  }

  /** Clear away what an interrupted `moveIn` left in the clear beside a lock that still stands. */
  async tidy(): Promise<Result<void>> {
    const lock = await this.take();
    if (!lock.ok) return lock;
    if (lock.value === undefined) return { ok: true, value: undefined };
    return this.#emptied(null, (state) => state.put(true, movedKey));
  }

  #emptied(expected: number | null, then: (state: IDBObjectStore) => void): Promise<Result<void>> {
    const stores = ['events', 'groups', 'waiting', 'state'] as const;
    return this.#database.use(stores, 'readwrite', async (tx) => {
      const events = await promisifyRequest(tx.objectStore('events').count());
      if (expected !== null && events !== expected) {
        tx.abort();
        return;
      }
      for (const name of ['events', 'groups', 'waiting'] as const) tx.objectStore(name).clear();
      const state = tx.objectStore('state');
      for (const key of await promisifyRequest(state.getAllKeys())) {
        if (key !== 'mark' && key !== lockKey) state.delete(key);
      }
      then(state);
    });
  }
}

const sealedPrefix = 'gloveside-sealed-';

/** A name for the database of a sealed record. @param mark - fresh random text */
export function sealedName(mark: string): string {
  return `${sealedPrefix}${mark}`;
}

/**
 * Delete sealed databases that no lock points to: what an interrupted sealing left, or what was opened
 * for good. Only the writer may, and only while it seals nothing.
 *
 * @param place - the one in use, or null
 */
export async function forgetOthers(
  factory: Pick<IDBFactory, 'databases' | 'deleteDatabase'>,
  place: string | null,
): Promise<void> {
  // Older browsers do not list their databases; there a leftover stays, and stays sealed.
  const all = 'databases' in factory ? await factory.databases().catch(() => []) : [];
  for (const { name } of all) {
    if (name?.startsWith(sealedPrefix) === true && name !== place) await forget(factory, name);
  }
}

function forget(factory: Pick<IDBFactory, 'deleteDatabase'>, name: string): Promise<void> {
  return new Promise((done) => {
    const request = factory.deleteDatabase(name);
    for (const end of ['success', 'error', 'blocked']) {
      request.addEventListener(end, () => {
        done();
      });
    }
  });
}

/** @throws {StorageFaultError} */
export function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new StorageFaultError(result.fault);
  return result.value;
}
