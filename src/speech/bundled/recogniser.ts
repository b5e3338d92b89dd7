import type { SoundSwallowerModule } from 'soundswallower';
import { Resampler } from '../resampler.ts';
import { anyNumber, anySound, digitWords } from './backgrounds.ts';
import { denoiserDelay, denoiserFrame, type Denoiser } from './denoiser.ts';
import { Endpointer, endpointerSettings } from './endpointer.ts';
import { Search, type ModelFiles } from './engine.ts';
import { wordsOfJsgf } from './grammarList.ts';
import { judge, type Judged } from './fit.ts';
import { HeldBack } from './HeldBack.ts';
import type { Acoustics, Views } from './measures.ts';
import { Noise } from './Noise.ts';
import { Steadiness } from './Steadiness.ts';
import { guessSounds } from './guessSounds.ts';
import { whyPoor, type Levels } from './whyPoor.ts';

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
  | { readonly type: 'poor'; readonly why: 'loud' | 'faint' }
  /** A grammar that the engine can not read; the one before stays. */
  | { readonly type: 'badGrammar'; readonly message: string };

/** The three searches that hear each utterance side by side. */
type Searches = Readonly<Record<keyof Views, Search>>;

/**
 * Sound kept from before the start of speech was certain, so that no first sound is lost. With more of
 * the quiet before it, words are laid there that nobody said.
 */
const PRE_ROLL_FRAMES = 25;
const LEVEL_FRAMES = 10;
/**
 * How much of the uncleaned sound goes along, 0 to 1. The net swallows an F or an S at the start of a
 * word, which costs more in a quiet room than noise does: "four" becomes "one". In a loud one it is
 * worth it, with a fortieth left in.
 *
 * @param overRoom - loudness of the voice over the room, dB
 */
const uncleanedShare = (overRoom: number): number =>
  0.025 + 0.975 * Math.min(1, Math.max(0, (overRoom - 22) / 10)) ** 2;

/**
 * A hiss this far under the voice is laid over a quiet room. The engine knows rooms, not the perfect
 * silence that suppression leaves between two words, and hears words in its edges. In dB.
 */
const HISS = -40;
/** Within an utterance, cleaned sound this near to the loudness of the voice belongs to it, dB. */
const NEAR_VOICE = -30;
/** More is to be expected after fewer single digits than this. */
const DIGITS_OF_A_READING = 3;
/** Voiced frames of 10 ms. */
const ONE_SYLLABLE = 24;

/** 10 ms at 16 kHz, as it came and cleaned. */
interface Frame {
  readonly plain: Float32Array;
  readonly cleaned: Float32Array;
}
/** 10 ms at 48 kHz with its mean power. */
interface Measured {
  readonly frame: Float32Array;
  readonly power: number;
}
/** Before the first frame of an opening. */
const silence: readonly Measured[] = Array.from({ length: denoiserDelay }, () => ({
  frame: new Float32Array(denoiserFrame),
  power: 0,
}));
/** How fast the room's own loudness is learnt, a frame. */
const ROOM_RATE = 0.02;
/**
 * Where the net takes away more than this it hears the room, whatever it says of a voice: in a steady
 * noise it may become sure of one that is not there. A voice 10 dB over pink noise loses as much in one
 * frame of thirty, and in one of fifteen before an utterance, where less may be lost. In dB.
 */
const MOSTLY_NOISE = { before: -6, within: -10 } as const;

/**
 * The whole bundled ear but for the microphone: sound in, utterances out.
 *
 * The same code runs in the browser's worker and in Node.
 */
export class Recogniser {
  readonly #searches: Searches;
  readonly #all: readonly Search[];
  readonly #denoiser: Denoiser;
  readonly #endpointer = new Endpointer();
  readonly #tell: (event: RecogniserEvent) => void;
  readonly #now: () => number;
  #toDenoiser: Resampler | undefined;
  #plainToSearch = new Resampler(48_000, 16_000);
  #cleanedToSearch = new Resampler(48_000, 16_000);
  #uncleaned = 1;
  #hiss = 0;
  readonly #noise = new Noise();
  #waiting = new Float32Array(0);
  /** The net's sound comes out late; uncleaned sound waits here for it, or the two would echo. */
  #underway = [...silence];
  #preRoll: Frame[] = [];
  readonly #heldBack = new HeldBack<Frame>();
  readonly #steadiness = new Steadiness();
  #level = { sum: 0, frames: 0 };
  #voice = { power: 0, cleaned: 0, frames: 0 };
  #room: number | undefined;
  #partial = '';
  /** Whether partial results are told. */
  interim = false;
  #next: Listening | undefined;
  #ready = false;
  #hearsDigits = false;

  private constructor(
    searches: Searches,
    denoiser: Denoiser,
    tell: (event: RecogniserEvent) => void,
    now: () => number,
  ) {
    this.#searches = searches;
    this.#all = [searches.narrow, searches.open, searches.sounds];
    this.#denoiser = denoiser;
    this.#tell = tell;
    this.#now = now;
  }

  /**
   * @param now - a clock in ms, for the time that a result took
   * @param certain - called once the model was read: what remains is to read the same one twice more
   * @throws when a file of the model can not be read
   */
  static async open(
    module: SoundSwallowerModule,
    files: ModelFiles,
    denoiser: Denoiser,
    tell: (event: RecogniserEvent) => void,
    now: () => number,
    certain: () => void = () => undefined,
  ): Promise<Recogniser> {
    const narrow = await Search.open(module, files);
    certain();
    // Its score is compared with none, so it need not weigh every sound of the model.
    const open = await Search.open(module, files, { compallsen: false });
    const sounds = await Search.open(module, files);
    open.setGrammar(anyNumber);
    sounds.setGrammar(anySound);
    return new Recogniser({ narrow, open, sounds }, denoiser, tell, now);
  }

  /** How long a speaker may be quiet within an utterance, ms. */
  set endSilence(ms: number) {
    this.#endpointer.hang = Math.round(ms / 10);
  }

  /** Expect something else. Within an utterance the grammar before goes on to its end. */
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

  /** The microphone closes: drop what was said so far. What was learnt of voice and room stays. */
  drop(): void {
    if (this.#endpointer.speaking) this.#result();
    this.#endpointer.reset();
    this.#toDenoiser = undefined;
    this.#plainToSearch = new Resampler(48_000, 16_000);
    this.#cleanedToSearch = new Resampler(48_000, 16_000);
    this.#waiting = new Float32Array(0);
    this.#underway = [...silence];
    this.#preRoll = [];
    // From one opening to the next the net would take the gap for the rhythm of speech.
    this.#denoiser.reset();
    this.#steadiness.reset();
  }

  /** Begin as if nothing was ever heard. */
  async forget(): Promise<void> {
    this.drop();
    this.#room = undefined;
    for (const search of this.#all) await search.resetAudio();
  }

  #frame(frame: Float32Array): void {
    const level = this.#meter(frame);
    this.#underway.push({ frame, power: level });
    const { frame: plain = frame, power = level } = this.#underway.shift() ?? {};
    const cleaned = frame.slice();
    const likelihood = this.#denoiser.process(cleaned);
    const cleanedLevel = powerOf(cleaned);
    const left = decibels(cleanedLevel) - decibels(power);
    this.#steadiness.add(decibels(level));
    const isRoom = this.#endpointer.speaking
      ? left < MOSTLY_NOISE.within
      : left < MOSTLY_NOISE.before || this.#steadiness.isSteady;
    const voice = isRoom ? 0 : likelihood;
    const sound: Frame = {
      plain: this.#plainToSearch.push(plain),
      cleaned: this.#cleanedToSearch.push(cleaned),
    };
    this.#follow(voice, level, cleanedLevel);
    const near = this.#endpointer.speaking && this.#isNearVoice(cleanedLevel);
    const likely = near ? 1 : voice;
    switch (this.#endpointer.step(this.#ready ? likely : 0, () => this.#isUnfinished())) {
      case 'quiet':
        this.#preRoll.push(sound);
        if (this.#preRoll.length > PRE_ROLL_FRAMES) this.#preRoll.shift();
        return;
      case 'start':
        // Fixed for the whole utterance: a change in its midst would sound like a change of voice.
        this.#uncleaned = uncleanedShare(this.#acoustics().overRoom);
        this.#hiss = this.#uncleaned * Math.sqrt(this.#meanVoice() * 10 ** (HISS / 10));
        for (const search of this.#all) search.start();
        for (const earlier of this.#preRoll) this.#feed(earlier);
        this.#preRoll = [];
        this.#feed(sound);
        this.#tell({ type: 'speechstart' });
        return;
      case 'speech':
        for (const each of this.#heldBack.pass(sound, likely >= endpointerSettings.voiceWithin)) {
          this.#feed(each);
        }
        if (this.interim) this.#tellPartial();
        return;
      case 'end':
        this.#utteranceEnds();
    }
  }

  /** Follow the loudness of room and voice, in power. */
  #follow(voice: number, power: number, cleaned: number): void {
    if (voice >= 0.5) {
      this.#voice.power += power;
      this.#voice.cleaned += cleaned;
      this.#voice.frames += 1;
    } else if (!this.#endpointer.speaking) {
      this.#room ??= power;
      this.#room += ROOM_RATE * (power - this.#room);
      this.#voice = { power: 0, cleaned: 0, frames: 0 };
    }
  }

  #meanVoice(): number {
    return this.#voice.power / Math.max(1, this.#voice.frames);
  }

  /** The net takes an S for noise; it is far louder than what cleaning leaves of a room. */
  #isNearVoice(cleaned: number): boolean {
    const { cleaned: sum, frames } = this.#voice;
    return cleaned > (sum / Math.max(1, frames)) * 10 ** (NEAR_VOICE / 10);
  }

  /**
   * Whoever reads off single digits pauses longer between them. So little voice that it is one syllable
   * at most, such as "six", may be one too, whatever it looks like by itself.
   */
  #isUnfinished(): boolean {
    if (!this.#hearsDigits) return false;
    if (this.#voice.frames < ONE_SYLLABLE) return true;
    const words = this.#searches.narrow.soFar().split(' ');
    return words.length < DIGITS_OF_A_READING && words.every((word) => digitWords.has(word));
  }

  #acoustics(): Acoustics & Levels {
    const voiceLevel = decibels(this.#meanVoice());
    const overRoom = voiceLevel - decibels(this.#room ?? 0);
    return { voiced: this.#voice.frames, voiceLevel, overRoom };
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
    const acoustics = this.#acoustics();
    const judged = judge(this.#result(), acoustics);
    this.#tell({ type: 'heard', took: this.#now() - started, ...judged });
    const sure = (judged.alternatives[0]?.confidence ?? 0) >= 0.5;
    const why = sure ? null : whyPoor(acoustics);
    if (why !== null) this.#tell({ type: 'poor', why });
    this.#voice = { power: 0, cleaned: 0, frames: 0 };
    this.#takeGrammar();
  }

  #result(): Views {
    this.#heldBack.drop();
    const { narrow, open, sounds } = this.#searches;
    return { narrow: narrow.finish(), open: open.finish(), sounds: sounds.finish() };
  }

  #feed({ plain, cleaned }: Frame): void {
    const share = this.#uncleaned;
    const sound = cleaned.map(
      (sample, index) =>
        sample + share * ((plain[index] ?? 0) - sample) + this.#hiss * this.#noise.next(),
    );
    for (const search of this.#all) search.feed(sound);
  }

  #takeGrammar(): void {
    if (this.#next === undefined) return;
    const { jsgf } = this.#next;
    this.#next = undefined;
    const { narrow } = this.#searches;
    const words = wordsOfJsgf(jsgf);
    for (const word of words) {
      if (!narrow.knows(word)) narrow.addWord(word, guessSounds(word));
    }
    try {
      narrow.setGrammar(jsgf);
      this.#ready = true;
      this.#hearsDigits = words.some((word) => digitWords.has(word));
    } catch (error) {
      this.#tell({ type: 'badGrammar', message: String(error) });
    }
  }

  /** @returns mean power of the frame */
  #meter(frame: Float32Array): number {
    const power = powerOf(frame);
    this.#level.sum += power;
    this.#level.frames += 1;
    if (this.#level.frames === LEVEL_FRAMES) {
      // Full scale is 0 dB; a voice at arm's length is about -30 dB, a quiet room under -60 dB.
      const level = decibels(this.#level.sum / LEVEL_FRAMES);
      this.#tell({ type: 'level', level: Math.min(1, Math.max(0, (level + 60) / 50)) });
      this.#level = { sum: 0, frames: 0 };
    }
    return power;
  }
}

const powerOf = (frame: Float32Array): number =>
  frame.reduce((sum, sample) => sum + sample * sample, 0) / frame.length;

const decibels = (power: number): number => 10 * Math.log10(Math.max(power, 1e-10));
