import type { CompiledRules } from './compileRules.ts';
import { IntTable } from './IntTable.ts';
import { kindClasses, movesByKind } from './kindClasses.ts';

/** What may follow at one point of a rule. */
interface Closure {
  readonly isFinal: boolean;
  /** States that take a word, and calls: see {@link Automaton.#callOf}. */
  readonly items: readonly number[];
}

/** No word leads on, and the rule can not end here. */
export const dead = 0;
/** No word leads on, and the rule ends here. */
export const ended = 3;
/** An id is even, and odd where the rule can end here. */
export const isFinal = (set: number) => (set & 1) === 1;

/** Bounds on what is kept; a long shift of hostile talk must not fill the memory. */
const mostSteps = 1 << 16;
const mostSets = 1 << 15;

/**
 * The rules as an automaton that is made as words are met: subset construction, each set of states
 * worked out once and each step from it looked up afterwards. It sees only kinds of words, so
 * "three fifty" and "four twenty" take the same steps.
 *
 * A set of a rule holds, for a rule called in it, that rule's own set and the state to return to.
 * So a set stays as small as its rule, and what was learnt of a number serves wherever one is said.
 */
export class Automaton {
  readonly #compiled: CompiledRules;
  readonly #kinds: number;
  readonly #ruleCount: number;
  readonly #steps = new IntTable(mostSteps);
  readonly #idOf = new Map<string, number>();
  #items: (readonly number[])[] = [];
  readonly #starts: Int32Array;
  #closures: (Closure | undefined)[] = [];
  /** By half of a set: the rule that it is of. */
  readonly #rules: number[] = [];
  readonly #ruleOf: Int16Array;
  readonly #moves: ReturnType<typeof movesByKind>;
  /** By kind and rule: an utterance has few kinds, so that what is asked of them lies together. */
  readonly #classes: Uint16Array;

  constructor(compiled: CompiledRules) {
    const { states, entry, names, kindOf } = compiled;
    this.#compiled = compiled;
    this.#kinds = Math.max(...kindOf) + 2;
    this.#starts = new Int32Array(states.length).fill(-1);
    this.#moves = movesByKind(compiled);
    this.#classes = new Uint16Array(names.length * this.#kinds);
    kindClasses(compiled, this.#moves, this.#kinds).forEach((classes, rule) =>
      classes.forEach((alike, kind) => (this.#classes[kind * names.length + rule] = alike)),
    );
    this.#ruleCount = names.length;
    this.#ruleOf = new Int16Array(states.length);
    entry.forEach((from, rule) => this.#ruleOf.fill(rule, from));
    this.#clear();
  }

  /** Forget what was met where it has become too much. Ids handed out before hold no longer. */
  tidy() {
    if (this.#steps.isFull || this.#items.length > mostSets) this.#clear();
  }

  #clear() {
    this.#steps.clear();
    this.#idOf.clear();
    this.#starts.fill(-1);
    this.#closures = [];
    this.#items = [];
    this.#rules.length = 0;
    this.#intern(false, []);
    this.#intern(true, []);
  }

  /** The set of what may follow at a state, within its rule. */
  start(at: number): number {
    const known = this.#starts[at]!;
    if (known >= 0) return known;
    const { isFinal: ends, items } = this.#closureOf(at);
    return (this.#starts[at] = this.#intern(ends, items));
  }

  /** The set after one more word of a kind. */
  step(set: number, kind: number): number {
    if (set <= ended) return dead;
    const alike = this.#classes[kind * this.#ruleCount + this.#rules[set >> 1]!]!;
    if (alike === 0) return dead;
    const key = set * this.#kinds + alike;
    const known = this.#steps.get(key);
    return known >= 0 ? known : this.#learn(set, kind, key);
  }

  #learn(set: number, kind: number, key: number): number {
    const items: number[] = [];
    let ends = false;
    const follow = (at: number) => {
      const closure = this.#closureOf(at);
      ends ||= closure.isFinal;
      for (const item of closure.items) items.push(item);
    };
    const { states } = this.#compiled;
    for (const item of this.#items[set >> 1]!) {
      if (item < states.length) {
        for (const to of this.#moves[item]!.get(kind) ?? nowhere) follow(to);
        continue;
      }
      const to = item % states.length;
      const called = this.step(Math.floor(item / states.length) - 1, kind);
      if (this.#items[called >> 1]!.length > 0) items.push(this.#callOf(called, to));
      if (isFinal(called)) follow(to);
    }
    const next = items.length === 0 && !ends ? dead : this.#intern(ends, items);
    this.#steps.add(key, next);
    return next;
  }

  /** A rule that stands at a set, with the state that follows it; above the numbers of all states. */
  #callOf(set: number, to: number): number {
    return (set + 1) * this.#compiled.states.length + to;
  }

  #closureOf(at: number): Closure {
    const known = this.#closures[at];
    if (known) return known;
    const { states, entry } = this.#compiled;
    const items: number[] = [];
    let { isFinal: ends } = states[at]!;
    const follow = (to: number) => {
      const closure = this.#closureOf(to);
      ends ||= closure.isFinal;
      for (const item of closure.items) items.push(item);
    };
    if (this.#moves[at]!.size > 0) items.push(at);
    for (const way of states[at]!.ways) {
      if (way.action) follow(way.to);
      else if (way.rule >= 0 && !way.table) {
        const called = this.start(entry[way.rule]!);
        if (this.#items[called >> 1]!.length > 0) items.push(this.#callOf(called, way.to));
        if (isFinal(called)) follow(way.to);
      }
    }
    const closure = { isFinal: ends, items };
    this.#closures[at] = closure;
    return closure;
  }

  #intern(ends: boolean, items: readonly number[]): number {
    const distinct = [...new Set(items)].sort((a, b) => a - b);
    const key = `${distinct.join()}${ends ? '.' : ''}`;
    const known = this.#idOf.get(key);
    if (known !== undefined) return known;
    const id = this.#items.length * 2 + Number(ends);
    this.#items.push(distinct);
    this.#rules.push(this.#ruleOf[(distinct[0] ?? 0) % this.#starts.length]!);
    this.#idOf.set(key, id);
    return id;
  }
}

const nowhere: readonly number[] = [];
