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

export const disk = {
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
