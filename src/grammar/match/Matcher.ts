import { noWord, waysFor, type CompiledRules, type OneWord } from './compileRules.ts';
import { isSameValue, type Action, type Fields, type Value } from './compileTag.ts';

/** Words as the matcher reads them. */
export interface Heard {
  /** Id of each word; 0 is a word that no rule knows. */
  readonly ids: readonly number[];
  /** The number that a written shape stands for; nothing for a word. */
  readonly values: readonly (number | undefined)[];
}

/** One rule over a span of words: each path is one way to take it. */
interface Span {
  paths: readonly Path[];
  /** While one utterance is read; kept longer, they would outlive the young heap. */
  values: readonly Value[] | null;
}
type Path = readonly Step[];
type Step =
  | { readonly type: 'tag'; readonly action: Action }
  | { readonly type: 'word'; readonly at: number; readonly table: ReadonlyMap<number, OneWord> }
  | { readonly type: 'shape'; readonly at: number }
  | { readonly type: 'rule'; readonly span: Span };

const nowhere: readonly number[] = [];
const noFields: Fields = {};

/** More words than this are not one utterance. */
export const mostWords = 60;
/** Bounds on what is not linear; a sentence that people say needs a tenth. */
const mostSteps = 2000;
const mostValues = 32;
/** Sentence shapes that are kept. */
const mostShapes = 16_384;

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
  readonly #seen: Int32Array;
  readonly #shapes = new Map<string, Span | 'tangled' | null>();
  readonly #kinds: number[] = [];
  #call = 0;
  #ends: (readonly number[] | undefined)[] = [];
  readonly #touched: number[] = [];
  readonly #spans = new Map<number, Span>();
  readonly #reach = new Map<number, boolean>();
  #width = 1;
  #steps = 0;
  readonly #filled: Span[] = [];
  #heard: Heard = { ids: [], values: [] };
  #given: Fields = noFields;
  isTangled = false;

  constructor(compiled: CompiledRules) {
    this.#compiled = compiled;
    this.#seen = new Int32Array(compiled.states.length * (mostWords + 1));
  }

  /**
   * Every value of the rule over all of the words.
   *
   * @param rule - full name
   * @param given - names that tags may read
   */
  whole(rule: string, heard: Heard, given: Fields = noFields): readonly Value[] {
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
    let shape = String.fromCharCode(index);
    this.#kinds.length = count;
    for (let at = 0; at < count; at++) {
      const kind = this.#compiled.kindOf[heard.ids[at]!]!;
      this.#kinds[at] = kind;
      shape += String.fromCharCode(kind);
    }
    let span = this.#shapes.get(shape);
    if (span === undefined) {
      if (this.#shapes.size >= mostShapes) this.#shapes.clear();
      span = this.#shapeOf(index);
      this.#shapes.set(shape, span);
    }
    this.isTangled = span === 'tangled';
    if (span === null || span === 'tangled') return [];
    this.#heard = heard;
    this.#given = given;
    this.#steps = 0;
    const values = this.#valuesOf(span);
    for (const each of this.#filled) each.values = null;
    this.#filled.length = 0;
    return values;
  }

  #shapeOf(rule: number): Span | 'tangled' | null {
    for (const key of this.#touched) this.#ends[key] = undefined;
    this.#touched.length = 0;
    this.#spans.clear();
    this.#reach.clear();
    this.#width = this.#kinds.length + 1;
    if (this.#call > 1_000_000_000) {
      this.#seen.fill(0);
      this.#call = 0;
    }
    if (!this.#endsOf(rule, 0).includes(this.#kinds.length)) return null;
    this.#steps = 0;
    this.isTangled = false;
    const span = this.#spanOf(rule, 0, this.#kinds.length);
    return this.isTangled ? 'tangled' : span;
  }

  #waysAt(at: number, position: number) {
    return waysFor(this.#compiled, at, this.#kinds[position] ?? noWord);
  }

  /* ---- first pass: where a rule can end ---- */

  #endsOf(rule: number, start: number): readonly number[] {
    const key = rule * this.#width + start;
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
    const mark = at * this.#width + position;
    if (this.#seen[mark] === call) return;
    this.#seen[mark] = call;
    if (this.#compiled.states[at]!.isFinal && !ends.includes(position)) ends.push(position);
    for (const way of this.#waysAt(at, position)) {
      // A look-up has already said that the word is in the table of a one-word rule.
      if (way.word >= 0 || way.table) this.#visit(way.to, position + 1, call, ends);
      else if (way.rule < 0) this.#visit(way.to, position, call, ends);
      else for (const end of this.#endsOf(way.rule, position)) this.#visit(way.to, end, call, ends);
    }
  }

  /* ---- second pass: the paths that lead to the end ---- */

  #spanOf(rule: number, start: number, end: number): Span {
    const key = (rule * this.#width + start) * this.#width + end;
    const known = this.#spans.get(key);
    if (known) return known;
    const paths: Path[] = [];
    const span: Span = { paths, values: null };
    this.#spans.set(key, span);
    this.#walk(this.#compiled.entry[rule]!, start, end, [], paths);
    return span;
  }

  #walk(at: number, position: number, end: number, steps: Step[], paths: Path[]) {
    if (++this.#steps > mostSteps) this.isTangled = true;
    if (this.isTangled) return;
    if (position === end && this.#compiled.states[at]!.isFinal) paths.push([...steps]);
    for (const way of this.#waysAt(at, position)) {
      const before = steps.length;
      if (way.word >= 0 || way.table) {
        if (position >= end || !this.#reaches(way.to, position + 1, end)) continue;
        if (way.table) steps.push({ type: 'word', at: position, table: way.table });
        else if (way.word < this.#compiled.firstWord) steps.push({ type: 'shape', at: position });
        this.#walk(way.to, position + 1, end, steps, paths);
      } else if (way.action) {
        if (!this.#reaches(way.to, position, end)) continue;
        steps.push({ type: 'tag', action: way.action });
        this.#walk(way.to, position, end, steps, paths);
      } else
        for (const stop of this.#endsOf(way.rule, position)) {
          if (!this.#reaches(way.to, stop, end)) continue;
          steps.push({ type: 'rule', span: this.#spanOf(way.rule, position, stop) });
          this.#walk(way.to, stop, end, steps, paths);
          steps.length = before;
        }
      steps.length = before;
    }
  }

  /** Whether the rule that the state is part of can end at `end` from here. */
  #reaches(at: number, position: number, end: number): boolean {
    if (position >= end) {
      if (position > end) return false;
      if (this.#compiled.states[at]!.isFinal) return true;
    }
    const key = (at * this.#width + position) * this.#width + end;
    const known = this.#reach.get(key);
    if (known !== undefined) return known;
    let can = false;
    for (const way of this.#waysAt(at, position)) {
      if (way.word >= 0 || way.table) can = this.#reaches(way.to, position + 1, end);
      else if (way.rule < 0) can = this.#reaches(way.to, position, end);
      else can = this.#endsOf(way.rule, position).some((stop) => this.#reaches(way.to, stop, end));
      if (can) break;
    }
    this.#reach.set(key, can);
    return can;
  }

  /* ---- third pass: what the paths mean ---- */

  #valuesOf(span: Span): readonly Value[] {
    if (span.values) return span.values;
    const found: Value[] = [];
    for (const path of span.paths) this.#run(path, 0, null, undefined, found);
    span.values = found;
    this.#filled.push(span);
    return found;
  }

  #run(path: Path, from: number, fields: Fields | null, last: Value, found: Value[]) {
    if (++this.#steps > mostSteps || found.length > mostValues) this.isTangled = true;
    if (this.isTangled) return;
    for (let index = from; index < path.length; index++) {
      const step = path[index]!;
      switch (step.type) {
        case 'tag': {
          const next = step.action(fields, last, this.#given);
          if (next === null) return;
          fields = next;
          break;
        }
        case 'shape':
          last = this.#heard.values[step.at];
          break;
        case 'word': {
          const word = step.table.get(this.#heard.ids[step.at]!)!;
          last = word === 'own' ? this.#heard.values[step.at] : word.value;
          break;
        }
        case 'rule': {
          const values = this.#valuesOf(step.span);
          if (values.length !== 1) {
            for (const value of values) this.#run(path, index + 1, fields, value, found);
            return;
          }
          last = values[0];
        }
      }
    }
    keep(found, fields === null ? last : 'out' in fields ? fields.out : fields);
  }
}

function keep(found: Value[], value: Value) {
  for (const each of found) if (isSameValue(each, value)) return;
  found.push(value);
}
