import type { OneWord, State } from './compileRules.ts';
import { isSameValue, type Action, type Fields, type Value } from './compileTag.ts';
import { runTag, valueOf, type Gathered } from './runTag.ts';

/** Tabulate a rule whose every way is one word, so that reading it is a look-up. */
export function oneWordRule(
  index: number,
  states: readonly State[],
  entry: readonly number[],
  firstWord: number,
): ReadonlyMap<number, OneWord> | undefined {
  const table = new Map<number, OneWord>();
  // A shape's number is not known yet; this stands for it and must come out untouched.
  const own: Value = { shape: 'own' };
  let isTable = true;
  const put = (word: number, value: Value) => {
    const now: OneWord = value === own ? 'own' : { value };
    const before = table.get(word);
    if (before === undefined) table.set(word, now);
    else if (before === 'own' || now === 'own' ? before !== now : !isSameValue(before.value, value))
      isTable = false;
  };
  type Leave = (word: number, fields: Fields | null, last: Value) => void;
  const walk = (
    at: number,
    word: number,
    fields: Fields | null,
    last: Value,
    depth: number,
    leave: Leave,
  ) => {
    if (depth > 24) isTable = false;
    if (!isTable) return;
    const state = states[at]!;
    if (state.isFinal) leave(word, fields, last);
    for (const way of state.ways) {
      if (way.action) {
        const next = reachesGiven(way.action, fields, last);
        if (next === undefined || last === own) isTable = false;
        else if (next) walk(way.to, word, next.fields, last, depth + 1, leave);
      } else if (way.word >= 0) {
        if (word >= 0) isTable = false;
        else walk(way.to, way.word, fields, way.word < firstWord ? own : last, depth + 1, leave);
      } else
        walk(entry[way.rule]!, word, null, undefined, depth + 1, (inner, innerFields, innerLast) =>
          walk(way.to, inner, fields, valueOf(innerFields, innerLast), depth + 1, leave),
        );
    }
  };
  walk(entry[index]!, -1, null, undefined, 0, (word, fields, last) => {
    if (word < 0) isTable = false;
    else put(word, valueOf(fields, last));
  });
  return isTable && table.size > 0 ? table : undefined;
}

/** Run a tag; undefined where it asks for something that only the caller gives. */
function reachesGiven(action: Action, fields: Fields | null, last: Value) {
  let isAsked = false;
  const given = new Proxy<Fields>(
    {},
    {
      get: () => {
        isAsked = true;
        return 0;
      },
    },
  );
  const now: Gathered = { fields, isOwn: false };
  const holds = runTag(action, now, last, given);
  return isAsked ? undefined : holds ? now : null;
}
