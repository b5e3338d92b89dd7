import { createSubscriber } from 'svelte/reactivity';
import type { LedgerEvent } from '../charting/events.ts';
import type { GroupQuery, Ledger } from '../storage/ledger.ts';

export interface GroupListInput<T> {
  readonly ledger: Ledger;
  readonly query: GroupQuery;
  /** What the events of one group make, or null while it is nothing yet. */
  readonly fold: (events: readonly LedgerEvent[]) => T | null;
  /** Whether it belongs in this list as it stands now. */
  readonly fits: (item: T) => boolean;
}

export type ListState = 'loading' | 'ready' | 'failed';

/**
 * Groups of the ledger as reactive state.
 *
 * Whoever reads it in a template or a derived starts it, and it follows the ledger until the last
 * reader is gone. After the first read only the groups that grew are read again.
 */
export class GroupList<T extends { readonly id: string }> {
  readonly #input: GroupListInput<T>;
  readonly #items = new Map<string, T>();
  readonly #track: () => void;
  #changed: () => void = () => undefined;
  #snapshot: readonly T[] = [];
  #state: ListState = 'loading';
  #work: Promise<void> = Promise.resolve();

  constructor(input: GroupListInput<T>) {
    this.#input = input;
    this.#track = createSubscriber((changed) => {
      this.#changed = changed;
      const leave = input.ledger.subscribe((groups) => this.#then(() => this.#refresh(groups)));
      this.#then(() => this.#load());
      return leave;
    });
  }

  get items(): readonly T[] {
    this.#track();
    return this.#snapshot;
  }

  get state(): ListState {
    this.#track();
    return this.#state;
  }

  /** Read it anew, after it failed. */
  retry(): void {
    this.#settle('loading');
    this.#then(() => this.#load());
  }

  /** One step after the other, so that a late answer never overwrites a newer one. */
  #then(step: () => Promise<void>): void {
    this.#work = this.#work.then(step).catch(() => this.#settle('failed'));
  }

  async #load(): Promise<void> {
    const found = await this.#input.ledger.groups(this.#input.query);
    if (!found.ok) {
      this.#settle('failed');
      return;
    }
    this.#items.clear();
    for (const events of found.value) {
      const item = this.#input.fold(events);
      if (item !== null) this.#items.set(item.id, item);
    }
    this.#settle('ready');
  }

  async #refresh(groups: readonly string[]): Promise<void> {
    for (const id of groups) {
      const found = await this.#input.ledger.group(id);
      if (!found.ok) {
        this.#settle('failed');
        return;
      }
      const item = this.#input.fold(found.value);
      if (item !== null && this.#input.fits(item)) this.#items.set(id, item);
      else this.#items.delete(id);
    }
    this.#settle(this.#state);
  }

  #settle(state: ListState): void {
    this.#state = state;
    this.#snapshot = [...this.#items.values()];
    this.#changed();
  }
}
