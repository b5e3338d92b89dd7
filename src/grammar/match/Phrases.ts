import type { Value } from './compileTag.ts';
import { largestNumber, writtenShapes } from '../writtenShapes.ts';

/** A phrase of more words comes again too seldom to be kept. */
export const longestPhrase = 5;
/** Power of 2: places for what a phrase means to a rule. */
const placeBits = 15;
/** Numbers in a place, 32 bytes that lie in one line of the processor's cache: rule, length, words. */
const placeSize = 8;

/**
 * What a few words in a row mean to a rule; they come again in other utterances.
 *
 * There are 32,768 places, a megabyte, and a phrase has but one that it may be kept in: what comes
 * newly and comes again takes it over. So nothing is ever emptied but for other things given, and
 * what is said all day stays.
 */
export class Phrases {
  readonly #places = new Int32Array(placeSize << placeBits);
  /** By place: part of the hash of what is there, small enough to be at hand when nothing is. */
  readonly #marks = new Uint16Array(1 << placeBits);
  /** By place: the same of what was asked for before. What comes once is not worth keeping. */
  readonly #met = new Uint16Array(1 << placeBits);
  readonly #values = new Array<readonly Value[]>(1 << placeBits).fill(nothing);
  /** By place in the utterance: the word, or the number with its shape; -1 where it is not kept. */
  readonly #words: Int32Array;
  readonly #wordCount: number;

  /**
   * @param wordCount - how many word ids there are
   * @param most - words in an utterance
   */
  constructor(wordCount: number, most: number) {
    this.#wordCount = wordCount;
    this.#words = new Int32Array(most);
  }

  clear() {
    this.#marks.fill(0);
    this.#met.fill(0);
    this.#values.fill(nothing);
  }

  /** Take up the words of an utterance: the id of each, with its number where it is a written shape. */
  hear(ids: readonly number[], values: readonly (number | undefined)[]) {
    for (let at = 0; at < ids.length; at++) {
      const value = values[at];
      const id = ids[at]!;
      if (value === undefined) this.#words[at] = id;
      else if (Number.isInteger(value) && value <= largestNumber)
        this.#words[at] = this.#wordCount + value * writtenShapes.length + id;
      else this.#words[at] = -1;
    }
  }

  /** A number for the words from `start` to `end` and a rule; 0 where they are not to be kept. */
  hashOf(rule: number, start: number, end: number): number {
    if (end - start > longestPhrase || end === start) return 0;
    let hash = rule;
    for (let at = start; at < end; at++) {
      const word = this.#words[at]!;
      if (word < 0) return 0;
      hash = scattered(hash ^ word);
    }
    return hash;
  }

  /**
   * What the words from `start` to `end` mean to a rule, where it is known.
   *
   * @param hash - of {@link hashOf}
   */
  valuesOf(hash: number, rule: number, start: number, end: number) {
    const place = hash & mostPlaces;
    if (this.#marks[place] !== markOf(hash)) return undefined;
    let at = place * placeSize;
    if (this.#places[at] !== headOf(rule, start, end)) return undefined;
    for (let word = start; word < end; word++)
      if (this.#places[++at] !== this.#words[word]) return undefined;
    return this.#values[place];
  }

  /** Keep what {@link valuesOf} did not know, where it was asked for before. */
  keep(hash: number, rule: number, start: number, end: number, values: readonly Value[]) {
    const place = hash & mostPlaces;
    const mark = markOf(hash);
    if (this.#met[place] !== mark) {
      this.#met[place] = mark;
      return;
    }
    this.#marks[place] = mark;
    let at = place * placeSize;
    this.#places[at] = headOf(rule, start, end);
    for (let word = start; word < end; word++) this.#places[++at] = this.#words[word]!;
    this.#values[place] = values;
  }
}

const nothing: readonly Value[] = [];
const mostPlaces = (1 << placeBits) - 1;

/** Never 0, which is an empty place. */
const markOf = (hash: number) => (hash >>> 16) | 1;

/** Rule and length in one number. */
const headOf = (rule: number, start: number, end: number) => rule * 8 + end - start;

const scattered = (hash: number) => {
  const mixed = Math.imul(hash, 0x9e3779b1);
  return mixed ^ (mixed >>> 15);
};
