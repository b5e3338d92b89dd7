import type { Value } from './compileTag.ts';
import { hashOf, IntTable } from './IntTable.ts';
import { largestNumber } from '../writtenShapes.ts';

/** A phrase of more words comes again too seldom to be kept. */
export const longestPhrase = 5;
/** So many phrases are kept, and so many times what one means to a rule. */
const mostPhrases = 1 << 15;
const mostMeanings = 1 << 15;
/** So many written numbers are told apart in them. */
const mostNumbers = 1024;
const metBits = 16;

/** What a few words in a row mean to a rule; they come again in other utterances. */
export class Phrases {
  readonly #words: number;
  readonly #rules: number;
  /** By phrase and the word after it: the longer phrase. The empty phrase is 0. */
  readonly #longer = new IntTable(mostPhrases);
  #count = 1;
  /** By shape and number: the word that it stands for in a phrase. */
  readonly #numbers = new IntTable(mostNumbers);
  #numberCount = 0;
  readonly #placeOf = new IntTable(mostMeanings);
  #values: (readonly Value[])[] = [];
  /** By a hash: what was asked before. What comes once is not worth keeping. */
  readonly #met = new Uint8Array(1 << metBits);

  /**
   * @param words - how many word ids there are
   * @param rules - how many rules
   */
  constructor(words: number, rules: number) {
    this.#words = words;
    this.#rules = rules;
  }

  clear() {
    this.#longer.clear();
    this.#placeOf.clear();
    this.#values = [];
    this.#count = 1;
    this.#numbers.clear();
    this.#numberCount = 0;
  }

  /** Forget all where it has become too much. Numbers of phrases hold no longer. */
  tidy() {
    if (this.#longer.isFull || this.#placeOf.isFull) this.clear();
  }

  /** What stands in a phrase for a written number; -1 where it is not to be kept. */
  wordOf(shape: number, value: number): number {
    if (!Number.isInteger(value) || value > largestNumber) return -1;
    const key = value * this.#words + shape;
    const known = this.#numbers.get(key);
    if (known >= 0 || this.#numbers.isFull) return known;
    const word = this.#words + this.#numberCount++;
    this.#numbers.add(key, word);
    return word;
  }

  /** The number of a phrase with one more word; -1 where there is no more room. */
  longer(phrase: number, word: number): number {
    const key = phrase * (this.#words + mostNumbers) + word;
    const known = this.#longer.get(key);
    if (known >= 0 || this.#longer.isFull) return known;
    this.#longer.add(key, this.#count);
    return this.#count++;
  }

  valuesOf(phrase: number, rule: number): readonly Value[] | undefined {
    const place = this.#placeOf.get(phrase * this.#rules + rule);
    return place < 0 ? undefined : this.#values[place];
  }

  keep(phrase: number, rule: number, values: readonly Value[]) {
    const key = phrase * this.#rules + rule;
    const hash = hashOf(key, metBits);
    if (this.#met[hash] !== (key % 255) + 1) {
      this.#met[hash] = (key % 255) + 1;
      return;
    }
    if (this.#placeOf.isFull) return;
    this.#placeOf.add(key, this.#values.length);
    this.#values.push(values);
  }
}
