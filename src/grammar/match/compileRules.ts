import type { Expansion, Rule } from '../jsgf/grammar.ts';
import { GrammarError } from '../jsgf/grammarError.ts';
import { emptiness } from '../jsgf/emptiness.ts';
import { compileTag, type Action, type Value } from './compileTag.ts';
import { oneWordRule } from './oneWordRule.ts';

/** One way out of a state. Exactly one of `word`, `rule`, `action` is set. */
export interface Way {
  readonly to: number;
  /** Id of the word, or -1. */
  readonly word: number;
  /** Index of the rule, or -1. */
  readonly rule: number;
  readonly action: Action | null;
  /** Behind a weight of 0: written, never said. */
  readonly isUnspoken: boolean;
  /** Where the rule takes one word only: what each means. */
  readonly table: ReadonlyMap<number, OneWord> | undefined;
}

export interface State {
  readonly ways: readonly Way[];
  readonly isFinal: boolean;
}

/** What a word means to a rule that only ever takes one word. `own` is a written shape's number. */
export type OneWord = { readonly value: Value } | 'own';

/** The rules as one table of states. */
export interface CompiledRules {
  /** Word to id; ids below {@link firstWord} are the written shapes. */
  readonly words: ReadonlyMap<string, number>;
  readonly names: readonly string[];
  readonly indexOf: ReadonlyMap<string, number>;
  readonly entry: readonly number[];
  readonly states: readonly State[];
  /** By rule: what each word means, where the rule only ever takes one. */
  readonly oneWord: readonly (ReadonlyMap<number, OneWord> | undefined)[];
  /** By word id: words of one kind stand in the same places, "three" and "four", and share it. */
  readonly kindOf: readonly number[];
  readonly firstWord: number;
}

interface Draft {
  ways: Way[];
  jumps: { to: number; isUnspoken: boolean }[];
}

/**
 * Compile linked rules.
 *
 * @param shapes - full rule name to word id, for terminals that are a shape and not a word
 * @param firstWord - the first id for words
 * @throws {GrammarError} `tag_malformed`, `endless`
 */
export function compileRules(
  rules: ReadonlyMap<string, Rule>,
  shapes: ReadonlyMap<string, number>,
  firstWord: number,
): CompiledRules {
  const names = [...rules.keys()];
  const isEmpty = emptiness(rules);
  const indexOf = new Map(names.map((name, index) => [name, index]));
  const words = new Map<string, number>();
  const drafts: Draft[] = [];
  const finals = new Set<number>();
  const draft = () => drafts.push({ ways: [], jumps: [] }) - 1;
  const idOf = (word: string) => {
    const id = words.get(word) ?? firstWord + words.size;
    words.set(word, id);
    return id;
  };
  const jump = (from: number, to: number, isUnspoken = false) =>
    drafts[from]!.jumps.push({ to, isUnspoken });

  const build = (body: Expansion, from: number, file: string): number => {
    const way = (part: Partial<Way>) => {
      const to = draft();
      drafts[from]!.ways.push({
        to,
        word: -1,
        rule: -1,
        action: null,
        isUnspoken: false,
        table: undefined,
        ...part,
      });
      return to;
    };
    switch (body.type) {
      case 'word':
        return way({ word: idOf(body.word) });
      case 'tag':
        return way({ action: compileTag(body.text, file, body.line) });
      case 'rule': {
        if (body.name === 'NULL') return from;
        if (body.name === 'VOID') return draft();
        const shape = shapes.get(body.name);
        return shape === undefined
          ? way({ rule: indexOf.get(body.name)! })
          : way({ word: shape, isUnspoken: true });
      }
      case 'sequence':
        return body.parts.reduce((at, part) => build(part, at, file), from);
      case 'choice': {
        const end = draft();
        for (const option of body.options) {
          const start = draft();
          jump(from, start, option.weight === 0);
          jump(build(option.body, start, file), end);
        }
        return end;
      }
      case 'optional': {
        const start = draft();
        const end = draft();
        jump(from, start);
        jump(build(body.body, start, file), end);
        jump(from, end);
        return end;
      }
      case 'repeat': {
        const start = draft();
        const end = draft();
        jump(from, start);
        const last = build(body.body, start, file);
        if (isEmpty(body.body))
          throw new GrammarError('endless', file, lineOf(body.body), 'repeats what may be empty');
        jump(last, end);
        jump(last, start);
        if (body.least === 0) jump(from, end);
        return end;
      }
    }
  };
  const entry = names.map((name) => {
    const rule = rules.get(name)!;
    const start = draft();
    finals.add(build(rule.body, start, rule.file));
    return start;
  });
  const states = closed(drafts, finals, entry);
  const oneWord = names.map((_, index) => oneWordRule(index, states, entry, firstWord));
  const tabled = states.map(({ isFinal, ways }) => ({
    isFinal,
    ways: ways.map((way) => ({ ...way, table: oneWord[way.rule] })),
  }));
  const kindOf = kindsOfWords(tabled, entry, oneWord, firstWord, firstWord + words.size);
  return { words, names, indexOf, entry, states: tabled, oneWord, kindOf, firstWord };
}

/** Put words together that no rule tells apart but by their value. */
function kindsOfWords(
  states: readonly State[],
  entry: readonly number[],
  oneWord: readonly (ReadonlyMap<number, OneWord> | undefined)[],
  firstWord: number,
  count: number,
): number[] {
  const places = Array.from({ length: count }, () => '');
  oneWord.forEach((table, rule) => {
    // Inside a tabulated rule no state is ever visited.
    if (table) for (const word of table.keys()) places[word] += `T${rule} `;
    else
      for (let at = entry[rule]!; at < (entry[rule + 1] ?? states.length); at++)
        for (const way of states[at]!.ways)
          if (way.word >= 0) places[way.word] += `${at}>${way.to} `;
  });
  const kinds = new Map<string, number>();
  return places.map((place, word) => {
    // Shapes carry their own number, so they are never one kind with words.
    const key = word < firstWord ? `shape ${word}` : place;
    const kind = kinds.get(key) ?? kinds.size;
    kinds.set(key, kind);
    return kind;
  });
}

function lineOf(body: Expansion): number {
  if ('line' in body) return body.line;
  if ('body' in body) return lineOf(body.body);
  const first = body.type === 'sequence' ? body.parts[0] : body.options[0]?.body;
  return first ? lineOf(first) : 1;
}

/** Do away with empty jumps, and with the ways out of states that nothing leads to. */
function closed(
  drafts: readonly Draft[],
  finals: ReadonlySet<number>,
  entry: readonly number[],
): State[] {
  const states: State[] = drafts.map(() => ({ ways: [], isFinal: false }));
  // "mils" and "milliliters" lead to the same place, so that they are words of one kind.
  const through = (at: number): number => {
    const { ways, jumps } = drafts[at]!;
    const isPassage = ways.length === 0 && jumps.length === 1 && !finals.has(at);
    return isPassage ? through(jumps[0]!.to) : at;
  };
  const reached = new Set(entry);
  for (const index of reached) {
    const ways: Way[] = [];
    const seen = new Set<string>();
    let isFinal = false;
    const visit = (at: number, isUnspoken: boolean) => {
      const key = `${at}${isUnspoken ? '!' : ''}`;
      if (seen.has(key) || seen.has(`${at}`)) return;
      seen.add(key);
      isFinal ||= finals.has(at);
      for (const way of drafts[at]!.ways) {
        const to = through(way.to);
        reached.add(to);
        ways.push({ ...way, to, isUnspoken: way.isUnspoken || isUnspoken });
      }
      for (const next of drafts[at]!.jumps) visit(next.to, isUnspoken || next.isUnspoken);
    };
    visit(index, false);
    states[index] = { ways, isFinal };
  }
  return states;
}
