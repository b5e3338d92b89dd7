import { digitWords } from './backgrounds.ts';
import type { Decoded, Piece } from './engine.ts';
import { figureOf } from './figureOf.ts';

/** The three searches' views of one utterance. */
export interface Views {
  /** What fits the grammar best. */
  readonly narrow: Decoded;
  /** What fits best of all numbers. */
  readonly open: Decoded;
  /** What fits best of all rows of sounds. */
  readonly sounds: Decoded;
}

/** What the sound itself tells, beside the words. */
export interface Acoustics {
  /** Frames of 10 ms that held a voice. */
  readonly voiced: number;
  /** Loudness of the voice over that of the room before it, dB. */
  readonly overRoom: number;
}

/** The names of the measures, in the order of their weights in `fit.json`. */
export const measureNames = [
  /** Log score of the words over that of any sounds, a frame: the weight at which those just win. */
  'lead',
  /** Mean fit of the words, each by its length. */
  'meanFit',
  /** Fit of the worst word. */
  'worstFit',
  /** Part of the voiced time that the words cover. */
  'cover',
  /** Part of the utterance between first and last word that no word covers. */
  'gaps',
  /** Logarithm of the number of words. */
  'words',
  /** Frames a word, at most 60: a longer one is laid over what is none, and no surer for it. */
  'pace',
  /** 1 where the best number is another one. */
  'differs',
  /** Log score of the best number over that of the words, a frame. */
  'rival',
  /** 1 where the number is read off digit by digit: short words that nothing holds together. */
  'digits',
  /** Loudness over the room, dB, at most 40. */
  'overRoom',
  /** Length of the words, s, at most 4. */
  'length',
] as const;

export type MeasureName = (typeof measureNames)[number];
export type Measures = Readonly<Record<MeasureName, number>>;

const isWord = ({ word }: Piece): boolean => !/^[<[]/.test(word);

/** Measure one utterance; undefined when no word was found in it at all. */
export function measure(
  { narrow, open, sounds }: Views,
  { voiced, overRoom }: Acoustics,
  isNumber: boolean,
): Measures | undefined {
  const words = narrow.pieces.filter(isWord);
  const [first] = words;
  const last = words.at(-1);
  if (first === undefined || last === undefined) return undefined;
  const given = narrow.score;
  if (given === undefined || sounds.score === undefined) return undefined;
  const frames = words.reduce((sum, { length }) => sum + length, 0);
  const span = last.start + last.length - first.start;
  const differs = isNumber && figureOf(open.text) !== figureOf(narrow.text);
  const over = ({ score }: Decoded): number => ((score ?? given) - given) / Math.max(1, frames);
  return {
    lead: -over(sounds),
    meanFit: words.reduce((sum, { fit, length }) => sum + fit * length, 0) / Math.max(1, frames),
    worstFit: Math.min(...words.map(({ fit }) => fit)),
    cover: Math.min(1.5, frames / Math.max(1, voiced)),
    gaps: Math.max(0, 1 - frames / Math.max(1, span)),
    words: Math.log(words.length),
    pace: Math.min(60, frames / words.length),
    differs: differs ? 1 : 0,
    rival: isNumber ? Math.min(40, over(open)) : 0,
    digits: words.length > 1 && words.every(({ word }) => digitWords.has(word)) ? 1 : 0,
    overRoom: Math.min(40, overRoom),
    length: Math.min(4, frames / 100),
  };
}
