/** A disk that the soak fills and empties, at IndexedDB's own boundary. */
let full = false;
let refusals = 0;

const { add, put } = IDBObjectStore.prototype;

function refusing(write: typeof add): typeof add {
  return function refuse(this: IDBObjectStore, ...values) {
    if (full) {
      refusals += 1;
      throw new DOMException('the soak filled the disk', 'QuotaExceededError');
    }
    return write.apply(this, values);
  };
}

IDBObjectStore.prototype.add = refusing(add);
IDBObjectStore.prototype.put = refusing(put);

const { transaction } = IDBDatabase.prototype;

export const disk = {
  /** Wait for no flush from now on: what survives a kill is asked elsewhere. */
  relax(): void {
    IDBDatabase.prototype.transaction = function relaxed(names, mode) {
      return transaction.call(this, names, mode);
    };
  },
  fill(): void {
    full = true;
  },
  empty(): void {
    full = false;
  },
  get full(): boolean {
    return full;
  },
  /** Writes that were refused so far. */
  get refusals(): number {
    return refusals;
  },
};
