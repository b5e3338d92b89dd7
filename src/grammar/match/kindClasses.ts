import type { CompiledRules, State } from './compileRules.ts';

type Moves = ReadonlyMap<number, readonly number[]>;

/** By state: the states that each kind of word leads to. */
export function movesByKind({ states, kindOf }: CompiledRules): Moves[] {
  return states.map(({ ways }: State) => {
    const moves = new Map<number, number[]>();
    for (const { word, table, to } of ways) {
      if (word < 0 && !table) continue;
      const words = table ? [...table.keys()] : [word];
      for (const kind of new Set(words.map((each) => kindOf[each]!))) {
        const there = moves.get(kind);
        if (there) there.push(to);
        else moves.set(kind, [to]);
      }
    }
    return moves;
  });
}

/**
 * Puts kinds of words together that a rule, with all that it calls, does not tell apart: to a number,
 * "litre" and "room" are alike, and so need not be learnt one by one.
 *
 * @returns by rule, by kind: the number of the class; 0 for what the rule has no place for
 */
export function kindClasses(
  { names, states, entry }: CompiledRules,
  moves: readonly Moves[],
  kindCount: number,
): Uint16Array[] {
  const known: (Uint16Array | undefined)[] = [];
  const isOpen = new Set<number>();
  const ofRule = (rule: number): Uint16Array => {
    const before = known[rule];
    if (before) return before;
    // A rule that calls itself tells all kinds apart; that is fine, only more than need be.
    if (isOpen.has(rule)) return Uint16Array.from({ length: kindCount }, (_, kind) => kind + 1);
    isOpen.add(rule);
    const marks = Array.from({ length: kindCount }, () => '');
    const called = new Set<number>();
    for (let at = entry[rule]!; at < (entry[rule + 1] ?? states.length); at++) {
      for (const [kind, there] of moves[at]!) marks[kind] += `${at}>${there.join()} `;
      for (const way of states[at]!.ways) if (way.rule >= 0 && !way.table) called.add(way.rule);
    }
    for (const each of called)
      ofRule(each).forEach((part, kind) => {
        if (part > 0) marks[kind] += `${each}:${part} `;
      });
    isOpen.delete(rule);
    const numbers = new Map([['', 0]]);
    const classes = Uint16Array.from(marks, (mark) => {
      const number = numbers.get(mark) ?? numbers.size;
      numbers.set(mark, number);
      return number;
    });
    known[rule] = classes;
    return classes;
  };
  return names.map((_, rule) => ofRule(rule));
}
