import type { Result } from '../storage/ledger.ts';
import type { StateStore } from '../storage/stateStore.ts';
import { storedOf, type WalkKeeper, type WalkRecord } from './keptWalk.ts';

/** The unfinished walk in the small state of this device, until another tab goes on with it. */
export class StoredWalk implements WalkKeeper {
  readonly #states: Pick<StateStore, 'put' | 'drop'>;
  #stopped = false;
  #last: Promise<unknown> = Promise.resolve();

  constructor(states: Pick<StateStore, 'put' | 'drop'>) {
    this.#states = states;
  }

  // What comes after `stop` counts as done: an old state of a walk that is another tab's must not
  // be tried again until it overwrites a newer one.

  async put(record: WalkRecord): Promise<void> {
    if (!this.#stopped) await this.#told(this.#states.put('walk', storedOf(record)));
  }

  async clear(): Promise<void> {
    if (!this.#stopped) await this.#told(this.#states.drop('walk'));
  }

  /** Keep nothing more. */
  stop(): void {
    this.#stopped = true;
  }

  /** Done when all that was handed over so far is on the disk, or was refused. */
  async settled(): Promise<void> {
    for (let last; last !== this.#last;) {
      last = this.#last;
      await last;
      // What waits for this write comes a few turns after it.
      await new Promise((next) => setTimeout(next));
    }
  }

  async #told(writing: Promise<Result<void>>): Promise<void> {
    this.#last = writing;
    const written = await writing;
    if (!written.ok && !this.#stopped) throw new Error(written.fault);
  }
}
