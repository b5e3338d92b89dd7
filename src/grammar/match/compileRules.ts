import type { Expansion, Rule } from '../jsgf/grammar.ts';
import { GrammarError } from '../jsgf/grammarError.ts';
import { emptiness, emptyRules } from '../jsgf/emptiness.ts';
import { compileTag, type Action } from './compileTag.ts';

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
}

export interface State {
  readonly ways: readonly Way[];
  readonly isFinal: boolean;
  /** Ids of the words that can come next. */
  readonly starts: ReadonlySet<number>;
  /** Whether the rule can end from here without another word. */
  readonly canEnd: boolean;
  /** Ways by the next word's id; filled as words are met, for most never are. */
  readonly byWord: (readonly Way[] | undefined)[];
}

/** The rules as one table of states. */
export interface CompiledRules {
  /** Word to id; ids below {@link firstWord} are the written shapes. */
  readonly words: ReadonlyMap<string, number>;
  readonly names: readonly string[];
  readonly indexOf: ReadonlyMap<string, number>;
  readonly entry: readonly number[];
  readonly states: readonly State[];
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
  return { words, names, indexOf, entry, states: closed(drafts, finals, names, entry, rules) };
}

function lineOf(body: Expansion): number {
  if ('line' in body) return body.line;
  if ('body' in body) return lineOf(body.body);
  const first = body.type === 'sequence' ? body.parts[0] : body.options[0]?.body;
  return first ? lineOf(first) : 1;
}

/** Do away with empty jumps, and find for each state what may come next. */
function closed(
  drafts: readonly Draft[],
  finals: ReadonlySet<number>,
  names: readonly string[],
  entry: readonly number[],
  rules: ReadonlyMap<string, Rule>,
): State[] {
  const empty = emptyRules(rules);
  const states = drafts.map((_, index) => {
    const ways: Way[] = [];
    const seen = new Set<string>();
    let isFinal = false;
    const visit = (at: number, isUnspoken: boolean) => {
      const key = `${at}${isUnspoken ? '!' : ''}`;
      if (seen.has(key) || seen.has(`${at}`)) return;
      seen.add(key);
      isFinal ||= finals.has(at);
      for (const way of drafts[at]!.ways)
        ways.push(isUnspoken ? { ...way, isUnspoken: true } : way);
      for (const next of drafts[at]!.jumps) visit(next.to, isUnspoken || next.isUnspoken);
    };
    visit(index, false);
    return { ways, isFinal, starts: new Set<number>(), canEnd: isFinal, byWord: [] };
  });
  for (let grew = true; grew;) {
    grew = false;
    for (const state of states) {
      const before = state.starts.size + Number(state.canEnd);
      for (const way of state.ways) {
        const next = states[way.to]!;
        let isPassable = way.action !== null;
        if (way.word >= 0) state.starts.add(way.word);
        else if (way.rule >= 0) {
          for (const id of states[entry[way.rule]!]!.starts) state.starts.add(id);
          isPassable = empty.has(names[way.rule]!);
        }
        if (!isPassable) continue;
        for (const id of next.starts) state.starts.add(id);
        state.canEnd ||= next.canEnd;
      }
      grew ||= state.starts.size + Number(state.canEnd) !== before;
    }
  }
  return states;
}

/** The ways out of a state that the next word does not already rule out. */
export function waysFor(compiled: CompiledRules, state: State, word: number): readonly Way[] {
  const known = state.byWord[word];
  if (known) return known;
  const ways = state.ways.filter((way) => {
    if (way.word >= 0) return way.word === word;
    const next = compiled.states[way.to]!;
    if (way.action) return next.starts.has(word) || next.canEnd;
    const first = compiled.states[compiled.entry[way.rule]!]!;
    return first.starts.has(word) || (first.canEnd && (next.starts.has(word) || next.canEnd));
  });
  state.byWord[word] = ways;
  return ways;
}
