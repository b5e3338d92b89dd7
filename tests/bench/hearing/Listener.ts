import { judged } from '../../../src/conversation/judged.ts';
import type { Expectation } from '../../../src/grammar/expectation.ts';
import { createInterpreter, type Interpreter } from '../../../src/grammar/interpreter.ts';
import { bundledFit } from '../../../src/speech/bundled/bundledEngine.ts';
import type { Measures } from '../../../src/speech/bundled/measures.ts';
import type { Recogniser, RecogniserEvent } from '../../../src/speech/bundled/recogniser.ts';
import { grammarFiles } from '../../support/grammarFiles.ts';
import { openNodeRecogniser } from '../../support/nodeRecogniser.ts';

export type Outcome = 'taken' | 'doubtful' | 'refused';

/** What became of one recording. */
export interface Heard {
  readonly outcome: Outcome;
  readonly mL: number | null;
  readonly candidates: readonly number[];
  /** A number that sounds like another: its digits are read back in any case. */
  readonly soundAlike: boolean;
  /** The command taken, or null. */
  readonly command: string | null;
  readonly words: string;
  /** From the end of the speech, as the ear saw it, to the result, ms. */
  readonly ms: number;
  /** How many utterances the ear cut the recording into. */
  readonly utterances: number;
  /** What fitted each utterance best, taken or not, and how well. */
  readonly judgements: readonly { readonly text: string; readonly measures?: Measures }[];
}

/** Samples a piece, 20 ms at 16 kHz: the microphone's pace. */
const PIECE = 0.02;
/** The room before and after a recording, s: a microphone is open before anybody speaks. */
const ROOM = 0.6;

/** The bundled ear with a stack of recordings in place of a microphone. */
export class Listener {
  readonly interpreter: Interpreter = createInterpreter(grammarFiles());
  /** How long each change of the grammar took: made anew, or known from before, ms. */
  readonly swaps: { readonly isFirst: boolean; readonly ms: number }[] = [];
  readonly #seen = new Set<string>();
  readonly #recogniser: Recogniser;
  readonly #events: RecogniserEvent[];

  private constructor(recogniser: Recogniser, events: RecogniserEvent[]) {
    this.#recogniser = recogniser;
    this.#events = events;
  }

  static async open(): Promise<Listener> {
    const events: RecogniserEvent[] = [];
    return new Listener(await openNodeRecogniser((event) => events.push(event)), events);
  }

  /** Hear one recording as if nothing had been heard before. */
  async hear(samples: Float32Array, rate: number, expectation: Expectation): Promise<Heard> {
    await this.#recogniser.forget();
    this.#swap(expectation);
    this.#events.length = 0;
    const room = roomOf(samples, rate);
    for (const sound of [room, samples, room]) this.#play(sound, rate);
    this.#recogniser.finish();
    return this.#outcome(expectation);
  }

  #swap(expectation: Expectation): void {
    const before = performance.now();
    const { jsgf } = this.interpreter.earGrammar(expectation);
    this.#recogniser.expect({ jsgf });
    this.swaps.push({ isFirst: !this.#seen.has(jsgf), ms: performance.now() - before });
    this.#seen.add(jsgf);
  }

  #play(sound: Float32Array, rate: number): void {
    const size = Math.round(rate * PIECE);
    for (let at = 0; at < sound.length; at += size) {
      this.#recogniser.push(sound.subarray(at, at + size), rate);
    }
  }

  #outcome(expectation: Expectation): Heard {
    const utterances = this.#events.filter((event) => event.type === 'heard');
    const all = utterances.map((utterance) => {
      const { alternatives, took } = utterance;
      const fit = alternatives.length === 0 ? 'none' : bundledFit(alternatives);
      const hearing = { ear: 'bundled', alternatives, fit, at: 0 } as const;
      const said = judged(hearing, expectation, this.interpreter, { ms: 0, offset: 0 });
      const nothing = {
        mL: null,
        candidates: [],
        soundAlike: false,
        command: null,
        words: alternatives[0]?.transcript ?? '',
        ms: took,
      };
      if (said.type === 'said.talk') return { ...nothing, outcome: 'refused' as const };
      if (said.type !== 'said.volume') {
        const command = said.type.slice('said.'.length);
        return { ...nothing, outcome: 'taken' as const, command };
      }
      const { mL, candidates, soundAlike, doubtful } = said.volume;
      return {
        ...nothing,
        outcome: doubtful ? ('doubtful' as const) : ('taken' as const),
        mL: doubtful ? null : mL,
        candidates: [...candidates],
        soundAlike: soundAlike.length > 0,
      };
    });
    const best =
      all.find(({ outcome }) => outcome === 'taken') ??
      all.find(({ outcome }) => outcome === 'doubtful') ??
      all[0];
    return {
      outcome: 'refused',
      mL: null,
      candidates: [],
      soundAlike: false,
      command: null,
      words: '',
      ms: 0,
      ...best,
      utterances: utterances.length,
      judgements: utterances.map(({ text, measures }) => ({ text, measures })),
    };
  }
}

/** The quietest fifth of a second, again and again: the room itself. */
function roomOf(samples: Float32Array, rate: number): Float32Array {
  const size = Math.round(rate / 5);
  if (samples.length < size) return new Float32Array(Math.round(rate * ROOM));
  let quietest = samples.subarray(0, size);
  let least = Infinity;
  for (let at = 0; at + size <= samples.length; at += Math.round(size / 4)) {
    const piece = samples.subarray(at, at + size);
    const power = piece.reduce((sum, sample) => sum + sample * sample, 0);
    if (power < least) {
      least = power;
      quietest = piece;
    }
  }
  // Forth and back, so that no step between two pieces clicks.
  const back = quietest.slice().reverse();
  const room = new Float32Array(Math.round(rate * ROOM));
  for (let at = 0, turn = 0; at < room.length; at += size, turn += 1) {
    room.set((turn % 2 === 0 ? quietest : back).subarray(0, room.length - at), at);
  }
  return room;
}
