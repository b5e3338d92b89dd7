import type { Decoder, Segment, SoundSwallowerModule } from 'soundswallower';

/** Where the files of the acoustic model and of the words stand: URLs in a browser, paths in Node. */
export interface ModelFiles {
  readonly mdef: string;
  readonly means: string;
  readonly variances: string;
  readonly sendump: string;
  readonly transitionMatrices: string;
  readonly featureParameters: string;
  readonly noiseWords: string;
  readonly words: string;
}

/** All that the ear needs beside its programs. */
export interface EarFiles extends ModelFiles {
  /** The program of the denoiser, its net within it. */
  readonly denoiser: string;
}

/** One stretch of a decoded utterance; silence and noises are among them. */
export interface Piece {
  readonly word: string;
  /** Frames of 10 ms. */
  readonly start: number;
  readonly length: number;
  /** How well the sound fits the word beside the best that any sound of the model would, 0 to 1. */
  readonly fit: number;
}

export interface Decoded {
  /** Empty when nothing in the grammar could be laid over the sound. */
  readonly text: string;
  /** Log score of the whole path in the engine's own units; undefined without a path. */
  readonly score: number | undefined;
  readonly pieces: readonly Piece[];
}

/** What the engine's build has beside the class that its types describe. */
interface RawModule extends SoundSwallowerModule {
  defaultModel: string | null;
  _decoder_hyp(decoder: number, score: number): number;
}
interface RawDecoder extends Decoder {
  readonly cdecoder: number;
}

/**
 * Chosen on joined digits of three people and two synthetic voices; `DEVELOPERS.md` has the tries.
 * The engine's own settings are for dictation: they count words and grammar branches too dear.
 */
const searchSettings = {
  lw: 1,
  wip: 10,
  silprob: 0.1,
  beam: 1e-60,
  pbeam: 1e-50,
  wbeam: 1e-40,
  // The mean of the sound before anything was heard: what a voice at arm's length has.
  cmninit: '44,3,-1',
} as const;

/** The engine's own subtraction of noise is off: the denoiser before it does better alone. */
const frontEndSettings = { remove_noise: 0 } as const;

/** A grammar that could not be taken; the one before stays. */
export class GrammarError extends Error {
  override readonly name = 'GrammarError';
}

/** One decoder with one grammar: sound goes in piece by piece, the best path comes out. */
export class Search {
  readonly #module: RawModule;
  readonly #decoder: RawDecoder;
  #grammar: string | undefined;

  private constructor(module: RawModule, decoder: RawDecoder) {
    this.#module = module;
    this.#decoder = decoder;
  }

  /** Load the model into a decoder of its own: about 30 MB of memory, 0.2 s. */
  static async open(
    module: SoundSwallowerModule,
    files: ModelFiles,
    settings: Record<string, string | number | boolean> = {},
    frontEnd: Readonly<Record<string, string | number>> = {},
  ): Promise<Search> {
    const raw = module as RawModule;
    raw.defaultModel = null;
    const decoder = new raw.Decoder({
      // Named although every file is given: an empty value is refused.
      hmm: 'given',
      mdef: files.mdef,
      mean: files.means,
      var: files.variances,
      sendump: files.sendump,
      tmat: files.transitionMatrices,
      featparams: files.featureParameters,
      fdict: files.noiseWords,
      dict: files.words,
      // Every model may have this file and ours has none: an address that never answers.
      lda: 'blob:none',
      samprate: 16_000,
      // Without it scores of two grammars do not compare: each is relative to its own best sound.
      compallsen: true,
      ...searchSettings,
      loglevel: 'FATAL',
      ...settings,
    }) as RawDecoder;
    await decoder.initialize();
    const changes = Object.entries({ ...frontEndSettings, ...frontEnd });
    // The model's own file of settings is read last, so these can only be changed afterwards.
    for (const [key, value] of changes) decoder.set_config(key, value);
    await decoder.reinitialize_audio();
    return new Search(raw, decoder);
  }

  knows(word: string): boolean {
    // Its types promise a string for words that it does not know.
    return (this.#decoder.lookup_word(word) as string | null) !== null;
  }

  /** @param sounds - the model's phones with spaces between; they must be known to it */
  addWord(word: string, sounds: string): void {
    this.#decoder.add_words([word, sounds]);
  }

  /** @throws {GrammarError} when the engine can not read it; the grammar before stays */
  setGrammar(jsgf: string): void {
    if (jsgf === this.#grammar) return;
    try {
      this.#decoder.set_grammar(jsgf);
      this.#grammar = jsgf;
    } catch (error) {
      // A grammar that fails leaves none at all behind.
      if (this.#grammar !== undefined) this.#decoder.set_grammar(this.#grammar);
      throw new GrammarError(`the engine can not read the grammar: ${String(error)}`);
    }
  }

  /** Forget what was learnt of the voice and the room. */
  async resetAudio(): Promise<void> {
    await this.#decoder.reinitialize_audio();
  }

  start(): void {
    this.#decoder.start();
  }

  /** @param samples - mono, 16 kHz */
  feed(samples: Float32Array): void {
    this.#decoder.process_audio(samples);
  }

  /** Take the whole utterance at once: its loudness is then evened out over all of it. */
  feedWhole(samples: Float32Array): void {
    this.#decoder.process_audio(samples, false, true);
  }

  /** The best path up to now; empty when there is none yet. */
  soFar(): string {
    return this.#module._decoder_hyp(this.#decoder.cdecoder, 0) === 0
      ? ''
      : this.#decoder.get_text();
  }

  /** End the utterance. */
  finish(): Decoded {
    this.#decoder.stop();
    const slot = this.#module._malloc(4);
    const found = this.#module._decoder_hyp(this.#decoder.cdecoder, slot);
    const score = this.#module.HEAP32[slot >> 2];
    this.#module._free(slot);
    if (found === 0) return { text: '', score: undefined, pieces: [] };
    const segments = this.#decoder.get_alignment({ align_level: 0 }).w ?? [];
    return { text: this.#decoder.get_text(), score, pieces: segments.flatMap(pieceOf) };
  }

  close(): void {
    this.#decoder.delete();
  }
}

const frames = (seconds: number): number => Math.round(seconds * 100);

function pieceOf({ t, b, d, p }: Segment): Piece[] {
  if (t === '(NULL)') return [];
  // The second pronunciation of a word is named `hundred(2)`.
  return [{ word: t.replace(/\(\d+\)$/, ''), start: frames(b), length: frames(d), fit: p }];
}
