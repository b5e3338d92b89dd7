import type { Manner, Voice } from '../voice.ts';
import type { Wave } from '../wave.ts';
import type { FliteVoice } from './flite.ts';

/**
 * Turns text into sound. @throws when it can not
 *
 * @param stretch - 1 is the voice's own speed, 1.2 slower
 */
export type Synthesise = (text: string, stretch: number, voice?: FliteVoice) => Promise<Wave>;
/** Plays to the end, or until the signal. @throws when the device gives no sound out */
export type Play = (wave: Wave, signal: AbortSignal, volume?: number) => Promise<void>;

/** Phrases that are kept ready: a walk says some 60 different ones. */
const KEPT = 80;

/** Speaks with flite on this device, for browsers whose system has no voice of its own. */
export class BundledVoice implements Voice {
  readonly name = 'bundled';
  readonly #synthesise: Synthesise;
  readonly #play: Play;
  readonly #manner: () => Manner;
  readonly #kept = new Map<string, Promise<Wave>>();

  /** @param manner - asked before each text */
  constructor(
    synthesise: Synthesise,
    play: Play,
    manner: () => Manner = () => ({ volume: 1, rate: 1 }),
  ) {
    this.#synthesise = synthesise;
    this.#play = play;
    this.#manner = manner;
  }

  async say(text: string, signal: AbortSignal): Promise<void> {
    const wave = await this.#waveOf(text);
    signal.throwIfAborted();
    await this.#play(wave, signal, this.#manner().volume);
  }

  /** Make a phrase ready before it is needed. */
  async prepare(text: string): Promise<void> {
    await this.#waveOf(text);
  }

  #waveOf(text: string): Promise<Wave> {
    const { rate } = this.#manner();
    const key = `${rate} ${text}`;
    const ready = this.#kept.get(key);
    this.#kept.delete(key);
    const wave = ready ?? this.#synthesise(text, 1 / rate);
    // Set anew, so that the oldest unused stands first.
    this.#kept.set(key, wave);
    wave.catch(() => this.#kept.delete(key));
    const oldest = this.#kept.keys().next().value;
    if (this.#kept.size > KEPT && oldest !== undefined) this.#kept.delete(oldest);
    return wave;
  }
}
