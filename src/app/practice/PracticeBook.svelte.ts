import type { Millilitres } from '../../measure/volume.ts';
import type { StateStore } from '../../storage/stateStore.ts';
import {
  noPractice,
  practiceOf,
  withAttempt,
  type KeptAttempt,
  type KeptPractice,
} from './keptAttempts.ts';

/**
 * The attempts of this device over time.
 *
 * It is given the small store beside the record, never the record: nothing that is practised can
 * become an entry.
 */
export class PracticeBook {
  /** `opening` until the first reading ended, `failed` where the device can not read them. */
  state = $state<'opening' | 'open' | 'failed'>('opening');
  readonly #states: Pick<StateStore, 'take' | 'put'>;
  #practice = $state.raw<KeptPractice>(noPractice);

  constructor(states: Pick<StateStore, 'take' | 'put'>) {
    this.#states = states;
  }

  get attempts(): readonly KeptAttempt[] {
    return this.#practice.attempts;
  }

  /** How far off a reading may be in the drill, mL. */
  get tolerance(): Millilitres {
    return this.#practice.tolerance;
  }

  async open(): Promise<void> {
    const kept = await this.#states.take('practice');
    if (kept.ok) this.#practice = practiceOf(kept.value);
    this.state = kept.ok ? 'open' : 'failed';
  }

  /** @throws when the device refuses; the page shows the attempt all the same */
  async keep(kept: KeptAttempt): Promise<void> {
    await this.#change((before) => withAttempt(before, kept));
  }

  /** The unit's instructor decides how close is right. */
  async setTolerance(tolerance: Millilitres): Promise<void> {
    await this.#change((before) => ({ ...before, tolerance }));
  }

  /** Read anew before each change: another tab may have practised meanwhile. */
  async #change(change: (before: KeptPractice) => KeptPractice): Promise<void> {
    const stored = await this.#states.take('practice');
    const before = stored.ok ? practiceOf(stored.value) : this.#practice;
    this.#practice = change(before);
    const put = await this.#states.put('practice', this.#practice);
    if (!put.ok) throw new Error(put.fault);
  }
}
