import { promisifyRequest } from 'idb-keyval';
import type { StoreName } from '../openDatabase.ts';

/** One change of a row, as it was asked for. */
export type RowChange =
  | { readonly on: StoreName; readonly put: unknown; readonly key?: IDBValidKey }
  | { readonly on: StoreName; readonly drop: IDBValidKey }
  | { readonly on: StoreName; readonly clear: true };

/** A row that was changed, or a whole store that was emptied. */
export interface Touched {
  readonly on: StoreName;
  readonly key: IDBValidKey | null;
}

/**
 * Note every change that is asked for in a transaction from now on, in its order.
 *
 * @returns the list that grows
 */
export function watchChanges(
  transaction: IDBTransaction,
  stores: readonly StoreName[],
): readonly RowChange[] {
  const changes: RowChange[] = [];
  for (const on of stores) {
    // A transaction gives the same object for a name each time it is asked.
    const store = transaction.objectStore(on);
    const [add, put] = [store.add.bind(store), store.put.bind(store)];
    const [drop, clear] = [store.delete.bind(store), store.clear.bind(store)];
    const noting =
      (write: IDBObjectStore['put']) =>
      (value: unknown, key?: IDBValidKey): IDBRequest<IDBValidKey> => {
        changes.push({ on, put: value, ...(key !== undefined && { key }) });
        // A key of undefined is not the same as none.
        return key === undefined ? write(value) : write(value, key);
      };
    store.add = noting(add);
    store.put = noting(put);
    store.delete = (key) => {
      if (key instanceof IDBKeyRange) throw new TypeError('the record drops rows by their keys');
      changes.push({ on, drop: key });
      return drop(key);
    };
    store.clear = () => {
      changes.push({ on, clear: true });
      return clear();
    };
  }
  return changes;
}

/** Make the same changes in another transaction. Twice leaves the same rows as once. */
export function replay(transaction: IDBTransaction, changes: readonly RowChange[]): void {
  for (const change of changes) {
    const store = transaction.objectStore(change.on);
    if ('put' in change) store.put(change.put, ...('key' in change ? [change.key] : []));
    else if ('drop' in change) store.delete(change.drop);
    else store.clear();
  }
}

/** The rows that changes touch, by their keys. */
export function touchedBy(transaction: IDBTransaction, changes: readonly RowChange[]): Touched[] {
  return changes.map((change) => {
    const { on } = change;
    if ('drop' in change) return { on, key: change.drop };
    if ('clear' in change) return { on, key: null };
    return { on, key: change.key ?? keyOf(transaction.objectStore(on), change.put) };
  });
}

/** The changes that bring rows to where they stand now. @param reading - a transaction over all stores */
export async function changesTo(
  reading: IDBTransaction,
  rows: readonly Touched[],
): Promise<RowChange[]> {
  const changes = rows.map(async ({ on, key }): Promise<RowChange> => {
    if (key === null) return { on, clear: true };
    const store = reading.objectStore(on);
    const put = await promisifyRequest<unknown>(store.get(key));
    if (put === undefined) return { on, drop: key };
    return store.keyPath === null ? { on, put, key } : { on, put };
  });
  return Promise.all(changes);
}

/** All stores whose rows carry their key have it in several named parts, or in one. */
function keyOf({ keyPath }: IDBObjectStore, value: unknown): IDBValidKey {
  const row = value as Record<string, IDBValidKey>;
  if (keyPath === null) throw new TypeError('a row without a key of its own needs one beside it');
  return typeof keyPath === 'string'
    ? (row[keyPath] ?? '')
    : Array.from(keyPath, (part) => row[part] ?? '');
}
