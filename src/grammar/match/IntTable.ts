/**
 * Whole numbers by whole numbers, in one flat array, which is kept as small as it can be so that it
 * stays in the processor's cache. Who fills it asks {@link isFull} and empties it; what no longer
 * fits then is not kept.
 */
export class IntTable {
  readonly #most: number;
  /** Key with one more, so that 0 is an empty place; beside it the value. */
  #places = new Int32Array(2 * fewest);
  #mask = 2 * fewest - 2;
  #size = 0;

  /** @param most - keys, from which on it is full */
  constructor(most: number) {
    this.#most = most;
  }

  get isFull(): boolean {
    return this.#size >= this.#most;
  }

  /** @returns the value, or -1 */
  get(key: number): number {
    const places = this.#places;
    const mask = this.#mask;
    const mark = key + 1;
    for (let at = placeOf(key) & mask; ; at = (at + 2) & mask) {
      const there = places[at];
      if (there === mark) return places[at + 1]!;
      if (there === 0) return -1;
    }
  }

  /** @param key - 0 to 2^31 - 2, and not in the table yet */
  add(key: number, value: number) {
    // One utterance may run over a little; then it is not kept.
    if (this.#size >= 2 * this.#most) return;
    // Three quarters full: what is looked for is then still in the first line of the cache looked at.
    if (this.#size * 8 >= this.#places.length * 3) this.#grow();
    this.#put(key, value);
    this.#size++;
  }

  clear() {
    this.#places = new Int32Array(2 * fewest);
    this.#mask = 2 * fewest - 2;
    this.#size = 0;
  }

  #grow() {
    const before = this.#places;
    this.#places = new Int32Array(2 * before.length);
    this.#mask = this.#places.length - 2;
    for (let at = 0; at < before.length; at += 2)
      if (before[at] !== 0) this.#put(before[at]! - 1, before[at + 1]!);
  }

  #put(key: number, value: number) {
    let at = placeOf(key) & this.#mask;
    while (this.#places[at] !== 0) at = (at + 2) & this.#mask;
    this.#places[at] = key + 1;
    this.#places[at + 1] = value;
  }
}

/** Places that a table begins with: a power of 2. */
const fewest = 256;

/** Scatters numbers that lie side by side: 2^32 over the golden ratio (Knuth, multiplicative hashing). */
const scatter = (key: number) => Math.imul(key, 0x9e3779b1);

/** One of 2^bits places for a key; two keys may share one. */
export const hashOf = (key: number, bits: number): number => scatter(key) >>> (32 - bits);

const placeOf = (key: number) => {
  const mixed = scatter(key);
  return (mixed ^ (mixed >>> 15)) << 1;
};
