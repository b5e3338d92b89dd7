import { isOpenTo, noWord, waysFor, type CompiledRules, type Way } from './compileRules.ts';
import type { Fields, Value } from './compileTag.ts';
import { Meanings } from './Meanings.ts';
import { oneWord, packWays, type PackedWays } from './packWays.ts';
import { emptySpan, makeSpan, stepTo, type Path, type Span, type Step } from './span.ts';

/** Words as the matcher reads them. */
export interface Heard {
  /** Id of each word; 0 is a word that no rule knows. */
  readonly ids: readonly number[];
  /** The number that a written shape stands for; nothing for a word. */
  readonly values: readonly (number | undefined)[];
}

/** What a walk through one span has to know. */
interface Room {
  readonly start: number;
  readonly end: number;
  readonly call: number;
  readonly paths: Path[];
}

const nowhere: readonly number[] = [];

/** More words than this are not one utterance. */
export const mostWords = 60;
/** Places of a word, the end counted as one. */
const width = mostWords + 1;
/** Bound on the second pass; a sentence that people say needs a tenth. */
const mostSteps = 2000;
/** Spans that are kept, and how long they may be to be kept at once. */
const mostSpans = 65_536;
const shortSpan = 3;

/**
 * Finds every way in which a rule takes a whole sequence of words, and what each way means.
 *
 * Three passes. The first asks where a rule can end that starts at a given word; it visits each
 * state once at each word, so no sentence blows it up. The second keeps the paths that lead to the
 * end. The third runs their tags. The first two see only kinds of words, so "three fifty" and
 * "four twenty" share them, and what they found is kept by the shape of the sentence.
 *
 * The work of the last two is bounded: where a sentence has more ways than any person means,
 * `isTangled` is set and the answer is not complete.
 */
export class Matcher {
  readonly #compiled: CompiledRules;
  /** By set of needed kinds: where the last word of it stands. */
  readonly #lastAt: Int16Array;
  /** Spans met before, by a hash: a long one that comes once is not worth keeping. */
  readonly #met = new Uint8Array(1 << 16);
  /** By rule and kinds of words; they come again in every sentence with a number in it. */
  readonly #spans: readonly Map<string, Span>[];
  #spanCount = 0;
  /** By kind: the letter that stands for it in a key. */
  readonly #letters: readonly string[];
  readonly #kinds = new Int32Array(mostWords);
  #count = 0;
  #shape = '';
  #call = 0;
  /** By rule and word; cleared by what was touched. */
  readonly #ends: (readonly number[] | undefined)[];
  readonly #touched: number[] = [];
  readonly #packed: PackedWays;
  /** State with word, and the call that was there, by a hash. */
  readonly #seen = new Int32Array(2 * 4096);
  /** State with word, and twice the call with one more where its end can be reached. */
  readonly #reach = new Int32Array(2 * 4096);
  #steps = 0;
  #heard: Heard = { ids: [], values: [] };
  readonly #meanings = new Meanings();
  isTangled = false;

  constructor(compiled: CompiledRules) {
    this.#compiled = compiled;
    const places = compiled.names.length * width;
    this.#ends = new Array<undefined>(places).fill(undefined);
    this.#packed = packWays(compiled);
    this.#spans = compiled.names.map(() => new Map<string, Span>());
    this.#letters = compiled.kindOf.map((_, kind) => String.fromCharCode(kind));
    this.#lastAt = new Int16Array(compiled.setCount);
  }

  /**
   * Every value of the rule over all of the words.
   *
   * @param rule - full name
   * @param given - names that tags may read
   */
  whole(rule: string, heard: Heard, given?: Fields): readonly Value[] {
    const index = this.#compiled.indexOf.get(rule);
    if (index === undefined) throw new Error(`matcher: no rule <${rule}>`);
    const count = heard.ids.length;
    if (count > mostWords) throw new Error(`matcher: more than ${mostWords} words`);
    const table = this.#compiled.oneWord[index];
    if (table) {
      // Kinds do not tell the words of such a rule apart.
      this.isTangled = false;
      const word = count === 1 ? table.get(heard.ids[0]!) : undefined;
      return word === undefined ? [] : [word === 'own' ? heard.values[0] : word.value];
    }
    let shape = '';
    this.#count = count;
    for (let at = 0; at < count; at++) {
      const kind = this.#compiled.kindOf[heard.ids[at]!]!;
      this.#kinds[at] = kind;
      shape += this.#letters[kind]!;
    }
    this.#shape = shape;
    this.#heard = heard;
    if (!this.#meanings.prepare(given)) this.#clear();
    this.isTangled = false;
    this.#steps = 0;
    const span = this.#spans[index]!.get(shape) ?? this.#spanOfAll(index);
    if (span === null) return [];
    const values = this.#meanings.of(span, heard);
    this.isTangled = this.#meanings.isTangled;
    return values;
  }

  /** What was kept holds only for what was given then. */
  #clear() {
    for (const spans of this.#spans) spans.clear();
    this.#spanCount = 0;
  }

  #spanOfAll(rule: number): Span | null {
    for (const key of this.#touched) this.#ends[key] = undefined;
    this.#touched.length = 0;
    if (this.#call > 500_000_000) {
      this.#seen.fill(0);
      this.#reach.fill(0);
      this.#call = 0;
    }
    this.#lastAt.fill(-1);
    for (let at = 0; at < this.#count; at++)
      for (const set of this.#compiled.setsOf[this.#kinds[at]!] ?? nowhere) this.#lastAt[set] = at;
    if (!this.#endsOf(rule, 0).includes(this.#count)) {
      this.#store(rule, this.#shape, emptySpan);
      return null;
    }
    const span = this.#spanOf(rule, 0, this.#count);
    return this.isTangled ? null : span;
  }

  #kindAt(position: number): number {
    return position < this.#count ? this.#kinds[position]! : noWord;
  }

  #isOpen(way: Way, kind: number, position: number): boolean {
    return isOpenTo(way, kind) && (way.needs < 0 || this.#lastAt[way.needs]! >= position);
  }

  /* ---- first pass: where a rule can end ---- */

  #endsOf(rule: number, start: number): readonly number[] {
    const key = rule * width + start;
    const known = this.#ends[key];
    if (known) return known;
    const ends: number[] = [];
    this.#visit(this.#compiled.entry[rule]!, start, ++this.#call, ends);
    const found = ends.length === 0 ? nowhere : ends;
    this.#ends[key] = found;
    this.#touched.push(key);
    return found;
  }

  #visit(at: number, position: number, call: number, ends: number[]) {
    if (!this.#isFirstVisit(at * width + position, call)) return;
    const { isFinal, first, to, kind, rule, needs, open, bits } = this.#packed;
    if (isFinal[at] === 1 && !ends.includes(position)) ends.push(position);
    const next = this.#kindAt(position);
    const bit = next + 1;
    const last = first[at + 1]!;
    for (let way = first[at]!; way < last; way++) {
      if (kind[way]! >= 0) {
        if (kind[way] !== next) continue;
      } else if (((bits[open[way]! + (bit >> 5)]! >>> (bit & 31)) & 1) === 0) continue;
      if (needs[way]! >= 0 && this.#lastAt[needs[way]!]! < position) continue;
      const called = rule[way]!;
      if (kind[way]! >= 0 || called === oneWord) this.#visit(to[way]!, position + 1, call, ends);
      else if (called < 0) this.#visit(to[way]!, position, call, ends);
      else for (const end of this.#endsOf(called, position)) this.#visit(to[way]!, end, call, ends);
    }
  }

  /**
   * A small table that stays in the processor's cache. What it forgets is only visited again, and
   * the rules called from there are known by then.
   */
  #isFirstVisit(mark: number, call: number): boolean {
    const place = (Math.imul(mark, 0x9e3779b1) >>> 20) << 1;
    if (this.#seen[place] === mark && this.#seen[place + 1] === call) return false;
    this.#seen[place] = mark;
    this.#seen[place + 1] = call;
    return true;
  }

  /* ---- second pass: the paths that lead to the end ---- */

  #spanOf(rule: number, start: number, end: number): Span {
    const key = this.#shape.slice(start, end);
    const known = this.#spans[rule]!.get(key);
    if (known) return known;
    const paths: Path[] = [];
    const room = { start, end, call: ++this.#call, paths };
    this.#walk(this.#compiled.entry[rule]!, start, room, []);
    const span = makeSpan(paths, this.#heard.ids, start, end - start);
    if (!this.isTangled) this.#store(rule, key, span);
    return span;
  }

  #store(rule: number, key: string, span: Span) {
    if (key.length > shortSpan && !this.#comesAgain(rule, key)) return;
    if (this.#spanCount >= mostSpans) this.#clear();
    this.#spans[rule]!.set(key, span);
    this.#spanCount++;
  }

  #comesAgain(rule: number, key: string): boolean {
    let hash = rule;
    for (let at = 0; at < key.length; at++) hash = Math.imul(hash, 31) + key.charCodeAt(at);
    hash &= 0xffff;
    const before = this.#met[hash] === 1;
    this.#met[hash] = 1;
    return before;
  }

  #walk(at: number, position: number, room: Room, steps: Step[]) {
    const { start, end, call, paths } = room;
    if (++this.#steps > mostSteps) this.isTangled = true;
    if (this.isTangled) return;
    const state = this.#compiled.states[at]!;
    if (position === end && state.isFinal) paths.push([...steps]);
    const kind = this.#kindAt(position);
    for (const way of waysFor(state, kind)) {
      if (!this.#isOpen(way, kind, position)) continue;
      const before = steps.length;
      if (way.word >= 0 || way.table) {
        if (position >= end || !this.#reaches(way.to, position + 1, end, call)) continue;
        if (way.table) steps.push({ type: 'word', at: position - start, table: way.table });
        else if (way.word < this.#compiled.firstWord)
          steps.push({ type: 'shape', at: position - start });
        this.#walk(way.to, position + 1, room, steps);
      } else if (way.action) {
        if (!this.#reaches(way.to, position, end, call)) continue;
        steps.push({ type: 'tag', action: way.action });
        this.#walk(way.to, position, room, steps);
      } else
        for (const stop of this.#endsOf(way.rule, position)) {
          if (!this.#reaches(way.to, stop, end, call)) continue;
          const span = this.#spanOf(way.rule, position, stop);
          steps.push(stepTo(span, position - start));
          this.#walk(way.to, stop, room, steps);
          steps.length = before;
        }
      steps.length = before;
    }
  }

  /** Whether the rule that the state is part of can end at `end` from here. */
  #reaches(at: number, position: number, end: number, call: number): boolean {
    const state = this.#compiled.states[at]!;
    if (position >= end) {
      if (position > end) return false;
      if (state.isFinal) return true;
    }
    const mark = at * width + position;
    const place = (Math.imul(mark, 0x9e3779b1) >>> 20) << 1;
    const known = this.#reach[place + 1]!;
    if (this.#reach[place] === mark && known >> 1 === call) return (known & 1) === 1;
    let can = false;
    const kind = this.#kindAt(position);
    for (const way of waysFor(state, kind)) {
      if (!this.#isOpen(way, kind, position)) continue;
      if (way.word >= 0 || way.table) can = this.#reaches(way.to, position + 1, end, call);
      else if (way.rule < 0) can = this.#reaches(way.to, position, end, call);
      else
        can = this.#endsOf(way.rule, position).some((stop) =>
          this.#reaches(way.to, stop, end, call),
        );
      if (can) break;
    }
    this.#reach[place] = mark;
    this.#reach[place + 1] = call * 2 + (can ? 1 : 0);
    return can;
  }
}
