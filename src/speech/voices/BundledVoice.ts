import type { Voice } from '../voice.ts';
import type { Wave } from '../wave.ts';

/** Turns text into sound. @throws when it can not */
export type Synthesise = (text: string) => Promise<Wave>;
/** Plays to the end, or until the signal. @throws when the device gives no sound out */
export type Play = (wave: Wave, signal: AbortSignal) => Promise<void>;

/** Phrases that are kept ready: a walk says some 60 different ones. */
const KEPT = 80;

/** Speaks with flite on this device, for browsers whose system has no voice of its own. */
export class BundledVoice implements Voice {
  readonly name = 'bundled';
  readonly #synthesise: Synthesise;
  readonly #play: Play;
  readonly #kept = new Map<string, Promise<Wave>>();

  constructor(synthesise: Synthesise, play: Play) {
    this.#synthesise = synthesise;
    this.#play = play;
  }

  async say(text: string, signal: AbortSignal): Promise<void> {
    const wave = await this.#waveOf(text);
    signal.throwIfAborted();
    await this.#play(wave, signal);
  }

  /** Make a phrase ready before it is needed. */
  async prepare(text: string): Promise<void> {
    await this.#waveOf(text);
  }

  #waveOf(text: string): Promise<Wave> {
    const ready = this.#kept.get(text);
    this.#kept.delete(text);
    const wave = ready ?? this.#synthesise(text);
    // Set anew, so that the oldest unused stands first.
    this.#kept.set(text, wave);
    wave.catch(() => this.#kept.delete(text));
    const oldest = this.#kept.keys().next().value;
    if (this.#kept.size > KEPT && oldest !== undefined) this.#kept.delete(oldest);
    return wave;
  }
}
