import { StorageFaultError } from './storageFault.ts';

/** Raised by one only when the form of the stores changes; the upgrade below then brings it forward. */
export const databaseVersion = 1;

export const storeNames = ['events', 'groups', 'waiting', 'state'] as const;
export type StoreName = (typeof storeNames)[number];

/** Key in `state` of a random text made with the database: another one means another record. */
export const markKey = 'mark';

/**
 * Open a database of the record, and make its stores where it is new.
 *
 * @param newMark - a fresh random text, for a database that is made now
 * @throws {StorageFaultError | DOMException}
 */
export function openDatabase(
  factory: Pick<IDBFactory, 'open'>,
  name: string,
  newMark: () => string,
): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = factory.open(name, databaseVersion);
    request.onupgradeneeded = () => upgrade(request.result, newMark());
    request.onblocked = () => reject(new StorageFaultError('storage_blocked'));
    request.onerror = () => reject(request.error ?? new StorageFaultError('storage_failed'));
    request.onsuccess = () => resolve(request.result);
  });
}

/**
 * Done when the disk has it. A request's error reaches the transaction before the transaction has an
 * error of its own, so only its end is listened to.
 */
export function finished(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.addEventListener('complete', () => resolve());
    transaction.addEventListener('abort', () =>
      reject(transaction.error ?? new DOMException('', 'AbortError')),
    );
  });
}

/** Run a transaction to its end. @throws what ended it, before what `run` threw */
export async function runTo<T>(
  transaction: IDBTransaction,
  run: (transaction: IDBTransaction) => Promise<T>,
): Promise<T> {
  const done = finished(transaction);
  const [value, end] = await Promise.allSettled([run(transaction), done]);
  if (value.status === 'rejected') {
    throw end.status === 'rejected' ? (end.reason ?? value.reason) : value.reason;
  }
  if (end.status === 'rejected') throw end.reason;
  return value.value;
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
  db.createObjectStore('state').add(mark, markKey);
}
