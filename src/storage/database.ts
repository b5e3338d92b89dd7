import { promisifyRequest } from 'idb-keyval';
import type { Result, StorageFault } from './ledger.ts';

/** Raised by one only when the form of the stores changes; the upgrade below then brings it forward. */
export const databaseVersion = 1;

export type StoreName = 'events' | 'groups' | 'waiting' | 'state';

/** A fault of the world on its way out of a transaction. */
export class StorageFaultError extends Error {
  override readonly name = 'StorageFaultError';
  readonly fault: StorageFault;

  constructor(fault: StorageFault) {
    super(fault);
    this.fault = fault;
  }
}

/** The fault that stands behind what IndexedDB throws. */
export function faultOf(error: unknown): StorageFault {
  if (error instanceof StorageFaultError) return error.fault;
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  switch (name) {
    case 'QuotaExceededError':
      return 'storage_full';
    case 'SecurityError':
    case 'NotAllowedError':
      return 'storage_refused';
    case 'VersionError':
      return 'storage_newer';
    case 'ConstraintError':
      return 'chain_forked';
    case 'InvalidStateError':
    case 'AbortError':
      return 'storage_closed';
    default:
      return 'storage_failed';
  }
}

/**
 * One IndexedDB database: opened when first used, opened again when it was closed under us.
 *
 * Every transaction that writes asks for strict durability, unless told otherwise: it is done when
 * the disk has it.
 */
export class Database {
  readonly #factory: IDBFactory | undefined;
  readonly #name: string;
  readonly #newMark: () => string;
  readonly #durability: IDBTransactionDurability;
  #opening: Promise<IDBDatabase> | null = null;
  /** Made with the database; another one means that the old record is gone. */
  #mark: string | null = null;

  /**
   * @param factory - undefined where the browser has none
   * @param newMark - a fresh random text, for a database that is made now
   * @param durability - `strict` for a record; less only for one that can be made again
   */
  constructor(
    factory: IDBFactory | undefined,
    name: string,
    newMark: () => string,
    durability: IDBTransactionDurability = 'strict',
  ) {
    this.#factory = factory;
    this.#name = name;
    this.#newMark = newMark;
    this.#durability = durability;
  }

  /** Run one transaction. `run` makes its requests at once; nothing but them may be awaited. */
  async use<T>(
    stores: readonly StoreName[],
    mode: IDBTransactionMode,
    run: (transaction: IDBTransaction) => Promise<T>,
  ): Promise<Result<T>> {
    try {
      const transaction = await this.#begin(stores, mode);
      const done = finished(transaction);
      const [value, end] = await Promise.allSettled([run(transaction), done]);
      if (value.status === 'rejected') {
        throw end.status === 'rejected' ? (end.reason ?? value.reason) : value.reason;
      }
      if (end.status === 'rejected') throw end.reason;
      return { ok: true, value: value.value };
    } catch (error) {
      return { ok: false, fault: faultOf(error) };
    }
  }

  /** Go on with the record that is there now, though the old one is gone. */
  acceptLoss(): void {
    this.#mark = null;
  }

  async close(): Promise<void> {
    const opening = this.#opening;
    this.#opening = null;
    await opening?.then(
      (db) => db.close(),
      () => undefined,
    );
  }

  async #begin(stores: readonly StoreName[], mode: IDBTransactionMode): Promise<IDBTransaction> {
    for (let again = true; ; again = false) {
      const opening = (this.#opening ??= this.#open());
      try {
        const db = await opening;
        return db.transaction([...stores], mode, { durability: this.#durability });
      } catch (error) {
        if (this.#opening === opening) this.#opening = null;
        // A connection that was closed under us throws InvalidStateError once; then we have a new one.
        if (!again || faultOf(error) !== 'storage_closed') throw error;
      }
    }
  }

  #open(): Promise<IDBDatabase> {
    const factory = this.#factory;
    if (factory === undefined) return Promise.reject(new StorageFaultError('storage_refused'));
    const opened = new Promise<IDBDatabase>((resolve, reject) => {
      const request = factory.open(this.#name, databaseVersion);
      request.onupgradeneeded = () => upgrade(request.result, this.#newMark());
      request.onblocked = () => reject(new StorageFaultError('storage_blocked'));
      request.onerror = () => reject(request.error ?? new StorageFaultError('storage_failed'));
      request.onsuccess = () => resolve(request.result);
    });
    return opened.then(async (db) => {
      const forget = (): void => {
        this.#opening = null;
      };
      // A newer tab wants to change the stores, or someone deletes them: do not stand in the way.
      db.onversionchange = () => {
        forget();
        db.close();
      };
      db.onclose = forget;
      const mark = await promisifyRequest<unknown>(
        db.transaction('state').objectStore('state').get('mark'),
      );
      if (this.#mark !== null && this.#mark !== mark) {
        db.close();
        throw new StorageFaultError('storage_vanished');
      }
      this.#mark = typeof mark === 'string' ? mark : null;
      return db;
    });
  }
}

/**
 * Done when the disk has it. A request's error reaches the transaction before the transaction has an
 * error of its own, so only its end is listened to.
 */
function finished(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.addEventListener('complete', () => resolve());
    transaction.addEventListener('abort', () =>
      reject(transaction.error ?? new DOMException('', 'AbortError')),
    );
  });
}

function upgrade(db: IDBDatabase, mark: string): void {
  const events = db.createObjectStore('events', { keyPath: ['group', 'id'] });
  events.createIndex('chain', ['device', 'seq'], { unique: true });
  const groups = db.createObjectStore('groups', { keyPath: 'group' });
  groups.createIndex('time', ['kind', 'ms', 'group']);
  groups.createIndex('bed', ['kind', 'bed', 'ms', 'group']);
  // A store and not an index: Chromium keeps index entries of changed rows for long, and looks at
  // each of them when the index is read. After a year that was two seconds for the queue.
  db.createObjectStore('waiting', { keyPath: ['kind', 'ms', 'group'] });
  db.createObjectStore('state').add(mark, 'mark');
}
