import { isSameValue, type Fields, type Value } from './compileTag.ts';
import { waysFor, type CompiledRules } from './compileRules.ts';

/** One way in which a rule matches from a given word on. */
export interface Match {
  /** Index of the word after the last one matched. */
  readonly end: number;
  readonly value: Value;
}

/** Words as the matcher reads them. */
export interface Heard {
  /** Id of each word; 0 is a word that no rule knows. */
  readonly ids: readonly number[];
  /** The number that a written shape stands for; nothing for a word. */
  readonly values: readonly (number | undefined)[];
}

const none: readonly Match[] = [];
const noFields: Fields = {};

/**
 * Finds every way in which a rule matches a sequence of words: top down, guided by the next word,
 * each rule tried once at each place. The number of steps is bounded, so a hostile sentence costs
 * no more than any other; `isTangled` says that the bound was met and the answer is not complete.
 */
export class Matcher {
  readonly #compiled: CompiledRules;
  readonly #mostSteps: number;
  #memo: (readonly Match[] | undefined)[] = [];
  readonly #touched: number[] = [];
  #ids: readonly number[] = [];
  #values: readonly (number | undefined)[] = [];
  #given: Fields = noFields;
  #steps = 0;
  #width = 0;
  isTangled = false;

  /** @param mostSteps - bound on the states visited for one utterance */
  constructor(compiled: CompiledRules, mostSteps = 12_000) {
    this.#compiled = compiled;
    this.#mostSteps = mostSteps;
  }

  get steps(): number {
    return this.#steps;
  }

  /**
   * Every value of the rule over all of the words.
   *
   * @param rule - full name
   * @param given - names that tags may read
   */
  whole(rule: string, heard: Heard, given: Fields = noFields): Value[] {
    const end = heard.ids.length;
    return this.from(rule, heard, given)
      .filter((match) => match.end === end)
      .map((match) => match.value);
  }

  /** Every match of the rule that starts at the first word. */
  from(rule: string, heard: Heard, given: Fields = noFields): readonly Match[] {
    const index = this.#compiled.indexOf.get(rule);
    if (index === undefined) throw new Error(`matcher: no rule <${rule}>`);
    for (const key of this.#touched) this.#memo[key] = undefined;
    this.#touched.length = 0;
    this.#ids = heard.ids;
    this.#values = heard.values;
    this.#given = given;
    this.#steps = 0;
    this.#width = heard.ids.length + 1;
    this.isTangled = false;
    return this.#rule(index, 0);
  }

  #rule(index: number, start: number): readonly Match[] {
    const key = index * this.#width + start;
    const known = this.#memo[key];
    if (known) return known;
    const found: Match[] = [];
    this.#walk(this.#compiled.entry[index]!, start, null, undefined, found);
    const matches = found.length === 0 ? none : found;
    this.#memo[key] = matches;
    this.#touched.push(key);
    return matches;
  }

  #walk(at: number, position: number, fields: Fields | null, last: Value, found: Match[]) {
    if (++this.#steps > this.#mostSteps) {
      this.isTangled = true;
      return;
    }
    const state = this.#compiled.states[at]!;
    if (state.isFinal) keep(found, position, valueOf(fields, last));
    const word = this.#ids[position] ?? -1;
    // Past the last word only tags and empty rules remain; -1 would not index the table.
    const ways = word < 0 ? state.ways : waysFor(this.#compiled, state, word);
    for (const way of ways) {
      if (way.action) {
        const next = way.action(fields, last, this.#given);
        if (next) this.#walk(way.to, position, next, last, found);
      } else if (way.word >= 0) {
        if (way.word === word)
          this.#walk(
            way.to,
            position + 1,
            fields,
            // A written shape is a rule as far as tags go: its number is its value.
            this.#values[position] ?? last,
            found,
          );
      } else {
        const matches = this.#rule(way.rule, position);
        for (const match of matches) this.#walk(way.to, match.end, fields, match.value, found);
      }
      if (this.isTangled) return;
    }
  }
}

const valueOf = (fields: Fields | null, last: Value): Value =>
  fields === null ? last : 'out' in fields ? fields.out : fields;

function keep(found: Match[], end: number, value: Value) {
  for (const match of found) if (match.end === end && isSameValue(match.value, value)) return;
  found.push({ end, value });
}
