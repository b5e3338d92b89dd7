import type { SoundSwallowerModule } from 'soundswallower';
import { Resampler } from '../resampler.ts';
import { anyNumber, anySound } from './backgrounds.ts';
import { Denoiser, denoiserFrame } from './denoiser.ts';
import { Endpointer } from './endpointer.ts';
import { Search, type Decoded, type ModelFiles } from './engine.ts';
import { wordsOfJsgf } from './grammarList.ts';
import { judge, type Judged } from './fit.ts';

/** What may be said now. */
export interface Listening {
  /** JSGF with one public rule. */
  readonly jsgf: string;
}

export type RecogniserEvent =
  /** 0 to 1 over the last 100 ms. */
  | { readonly type: 'level'; readonly level: number }
  | { readonly type: 'speechstart' }
  | { readonly type: 'speechend' }
  /** What the narrow grammar makes of the utterance so far. */
  | { readonly type: 'partial'; readonly transcript: string }
  | ({ readonly type: 'heard'; readonly took: number } & Judged)
  | { readonly type: 'poor'; readonly why: 'loud' | 'faint' };

/** The three searches that hear each utterance side by side. */
interface Searches {
  readonly narrow: Search;
  readonly open: Search;
  readonly sounds: Search;
}

/** Sound kept from before the start of speech was certain, so that no first sound is lost. */
const PRE_ROLL_FRAMES = 40;
const LEVEL_FRAMES = 10;

/**
 * The whole bundled ear but for the microphone: sound in, utterances out.
 *
 * The same code runs in the browser's worker and in Node.
 */
export class Recogniser {
  readonly #searches: Searches;
  readonly #denoiser: Denoiser;
  readonly #endpointer = new Endpointer();
  readonly #tell: (event: RecogniserEvent) => void;
  readonly #now: () => number;
  #toDenoiser: Resampler | undefined;
  #toSearch = new Resampler(48_000, 16_000);
  #waiting = new Float32Array(0);
  #preRoll: Float32Array[] = [];
  #level = { sum: 0, frames: 0 };
  #partial = '';
  /** Whether partial results are told. */
  interim = false;
  #next: Listening | undefined;
  #ready = false;

  private constructor(
    searches: Searches,
    denoiser: Denoiser,
    tell: (event: RecogniserEvent) => void,
    now: () => number,
  ) {
    this.#searches = searches;
    this.#denoiser = denoiser;
    this.#tell = tell;
    this.#now = now;
  }

  /**
   * @param now - a clock in ms, for the time that a result took
   * @throws when a file of the model can not be read
   */
  static async open(
    module: SoundSwallowerModule,
    files: ModelFiles,
    denoiser: Denoiser,
    tell: (event: RecogniserEvent) => void,
    now: () => number,
  ): Promise<Recogniser> {
    const narrow = await Search.open(module, files);
    const open = await Search.open(module, files);
    const sounds = await Search.open(module, files);
    open.setGrammar(anyNumber);
    sounds.setGrammar(anySound);
    return new Recogniser({ narrow, open, sounds }, denoiser, tell, now);
  }

  /** Words of a grammar that the dictionary does not have; such a grammar can not be taken. */
  unknownWords({ jsgf }: Listening): string[] {
    return wordsOfJsgf(jsgf).filter((word) => !this.#searches.narrow.knows(word));
  }

  /**
   * Expect something else. Within an utterance the grammar before goes on to its end.
   *
   * @throws {GrammarError} when the engine can not read it
   */
  expect(listening: Listening): void {
    this.#next = listening;
    if (!this.#endpointer.speaking) this.#takeGrammar();
  }

  /** Take the next piece of the microphone's sound. @param rate - Hz, the same for a session */
  push(samples: Float32Array, rate: number): void {
    this.#toDenoiser ??= new Resampler(rate, 48_000);
    const fresh = this.#toDenoiser.push(samples);
    const sound = new Float32Array(this.#waiting.length + fresh.length);
    sound.set(this.#waiting);
    sound.set(fresh, this.#waiting.length);
    let at = 0;
    for (; at + denoiserFrame <= sound.length; at += denoiserFrame) {
      this.#frame(sound.slice(at, at + denoiserFrame));
    }
    this.#waiting = sound.slice(at);
  }

  /** The microphone closes: judge what was said so far, if anything was. */
  finish(): void {
    if (this.#endpointer.speaking) this.#utteranceEnds();
    this.#endpointer.reset();
  }

  /** Drop what was said so far and what was learnt of the room. */
  reset(): void {
    if (this.#endpointer.speaking) this.#result();
    this.#endpointer.reset();
    this.#denoiser.reset();
    this.#toDenoiser = undefined;
    this.#toSearch = new Resampler(48_000, 16_000);
    this.#waiting = new Float32Array(0);
    this.#preRoll = [];
  }

  #frame(frame: Float32Array): void {
    this.#meter(frame);
    const voice = this.#denoiser.process(frame);
    const sound = this.#toSearch.push(frame);
    switch (this.#endpointer.step(this.#ready ? voice : 0)) {
      case 'quiet':
        this.#preRoll.push(sound);
        if (this.#preRoll.length > PRE_ROLL_FRAMES) this.#preRoll.shift();
        return;
      case 'start':
        for (const search of Object.values(this.#searches) as Search[]) search.start();
        for (const earlier of this.#preRoll) this.#feed(earlier);
        this.#preRoll = [];
        this.#feed(sound);
        this.#tell({ type: 'speechstart' });
        return;
      case 'speech':
        this.#feed(sound);
        if (this.interim) this.#tellPartial();
        return;
      case 'end':
        this.#feed(sound);
        this.#utteranceEnds();
    }
  }

  #tellPartial(): void {
    const transcript = this.#searches.narrow.soFar();
    if (transcript === this.#partial || transcript === '') return;
    this.#partial = transcript;
    this.#tell({ type: 'partial', transcript });
  }

  #utteranceEnds(): void {
    this.#partial = '';
    this.#tell({ type: 'speechend' });
    const started = this.#now();
    const judged = judge(this.#result());
    this.#tell({ type: 'heard', took: this.#now() - started, ...judged });
    this.#takeGrammar();
  }

  #result(): Record<keyof Searches, Decoded> {
    const { narrow, open, sounds } = this.#searches;
    return { narrow: narrow.finish(), open: open.finish(), sounds: sounds.finish() };
  }

  #feed(sound: Float32Array): void {
    for (const search of Object.values(this.#searches) as Search[]) search.feed(sound);
  }

  #takeGrammar(): void {
    if (this.#next === undefined) return;
    const { jsgf } = this.#next;
    this.#next = undefined;
    this.#searches.narrow.setGrammar(jsgf);
    this.#ready = true;
  }

  #meter(frame: Float32Array): void {
    for (const sample of frame) this.#level.sum += sample * sample;
    this.#level.frames += 1;
    if (this.#level.frames < LEVEL_FRAMES) return;
    const rms = Math.sqrt(this.#level.sum / (LEVEL_FRAMES * denoiserFrame));
    // Full scale is 0 dB; a voice at arm's length is about -30 dB, a quiet room under -60 dB.
    const decibels = 20 * Math.log10(Math.max(rms, 1e-6));
    this.#tell({ type: 'level', level: Math.min(1, Math.max(0, (decibels + 60) / 50)) });
    this.#level = { sum: 0, frames: 0 };
  }
}
