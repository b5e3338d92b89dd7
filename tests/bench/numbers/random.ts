/** A small seeded generator (xorshift, 32 bits), so that every run of a benchmark says the same. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed | 1;
  }

  /** 0 to 1, 1 left out. */
  next(): number {
    let x = this.#state;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this.#state = x;
    return (x >>> 0) / 4294967296;
  }

  below(limit: number): number {
    return Math.floor(this.next() * limit);
  }

  pick<Item>(items: readonly Item[]): Item {
    return items[this.below(items.length)]!;
  }

  maybe(share: number, text: string): string {
    return this.next() < share ? text : '';
  }
}
