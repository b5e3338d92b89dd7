type Callback = (lock: Lock | null) => unknown;

interface Held {
  readonly reject: (error: Error) => void;
}

/**
 * Web Locks as its specification has them, for the exclusive mode: one holder a name, a queue, and
 * `ifAvailable`, `steal` and `signal`. Node has none.
 */
export class LocksInMemory {
  #held: Held | null = null;
  readonly #queue: (() => void)[] = [];

  request(_name: string, options: LockOptions, callback: Callback): Promise<unknown> {
    return new Promise((resolve, reject) => {
      const grant = (): void => {
        const held: Held = { reject };
        this.#held = held;
        void Promise.resolve(callback({ name: _name, mode: 'exclusive' })).then((value) => {
          if (this.#held === held) this.#free();
          resolve(value);
        });
      };
      if (options.steal === true) {
        this.#held?.reject(new DOMException('stolen', 'AbortError'));
        grant();
      } else if (this.#held === null) grant();
      else if (options.ifAvailable === true) resolve(callback(null));
      else {
        this.#queue.push(grant);
        options.signal?.addEventListener('abort', () => {
          const place = this.#queue.indexOf(grant);
          if (place >= 0) this.#queue.splice(place, 1);
          reject(new DOMException('', 'AbortError'));
        });
      }
    });
  }

  asManager(): LockManager {
    return this as unknown as LockManager;
  }

  #free(): void {
    this.#held = null;
    this.#queue.shift()?.();
  }
}
