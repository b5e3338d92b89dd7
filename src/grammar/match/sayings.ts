import type { CompiledRules } from './compileRules.ts';
import { isSameValue, type Fields, type Value } from './compileTag.ts';
import { runTag, valueOf, type Gathered } from './runTag.ts';

/** One way to say a rule, with its value. */
export interface Saying {
  readonly phrase: string;
  readonly value: Value;
}

const mostWords = 40;

/**
 * Every way to *say* a rule: what is behind a weight of 0 is left out.
 *
 * @param keeps - drops a value, of a rule or on the way to it, that can not lead to a wanted one
 * @param most - stops each rule after so many
 * @throws Error where the rule never ends
 */
export function sayings(
  compiled: CompiledRules,
  rule: string,
  given: Fields,
  keeps: (value: Value) => boolean,
  most = Infinity,
): readonly Saying[] {
  const text = new Map([...compiled.words].map(([word, id]) => [id, word]));
  const known = new Map<number, readonly Saying[]>();
  const ofRule = (index: number): readonly Saying[] => {
    const before = known.get(index);
    if (before) return before;
    const found: Saying[] = [];
    const seen = new Map<string, Value>();
    const keep = (phrase: string, value: Value) => {
      if (!keeps(value)) return;
      if (seen.has(phrase) && isSameValue(seen.get(phrase), value)) return;
      seen.set(phrase, value);
      found.push({ phrase, value });
    };
    const walk = (
      at: number,
      phrase: string,
      depth: number,
      fields: Fields | null,
      last: Value,
    ) => {
      if (found.length >= most) return;
      if (depth > mostWords) throw new Error(`sayings: <${compiled.names[index]}> never ends`);
      const state = compiled.states[at]!;
      if (state.isFinal) keep(phrase, valueOf(fields, last));
      for (const way of state.ways) {
        if (way.isUnspoken) continue;
        if (way.action) {
          const now: Gathered = { fields, isOwn: false };
          if (runTag(way.action, now, last, given) && everyKept(now.fields, keeps))
            walk(way.to, phrase, depth, now.fields, last);
        } else if (way.word >= 0)
          walk(way.to, join(phrase, text.get(way.word)!), depth + 1, fields, last);
        else
          for (const saying of ofRule(way.rule))
            walk(way.to, join(phrase, saying.phrase), depth + 1, fields, saying.value);
      }
    };
    walk(compiled.entry[index]!, '', 0, null, undefined);
    known.set(index, found);
    return found;
  };
  return ofRule(compiled.indexOf.get(rule)!);
}

const join = (a: string, b: string) => (a === '' ? b : b === '' ? a : `${a} ${b}`);

function everyKept(fields: Fields | null, keeps: (value: Value) => boolean): boolean {
  for (const name in fields) if (!keeps(fields![name])) return false;
  return true;
}
