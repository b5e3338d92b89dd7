import type { CompiledRules, OneWord, State } from './compileRules.ts';

type Moves = ReadonlyMap<number, readonly number[]>;

/** By state: the states that each kind of word leads to. */
export function movesByKind({ states, kindOf }: CompiledRules): Moves[] {
  const kindsIn = new Map<ReadonlyMap<number, OneWord>, ReadonlySet<number>>();
  const kindsOf = (table: ReadonlyMap<number, OneWord>) => {
    let kinds = kindsIn.get(table);
    if (!kinds) kindsIn.set(table, (kinds = new Set([...table.keys()].map((id) => kindOf[id]!))));
    return kinds;
  };
  return states.map(({ ways }: State) => {
    const moves = new Map<number, number[]>();
    for (const { word, table, to } of ways) {
      if (word < 0 && !table) continue;
      for (const kind of table ? kindsOf(table) : [kindOf[word]!]) {
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
 * @returns by rule, by kind: the number of the class, at most the number of kinds; 0 for what the rule
 * has no place for
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
    const classes = new Partition(kindCount);
    const called = new Set<number>();
    for (let at = entry[rule]!; at < (entry[rule + 1] ?? states.length); at++) {
      const places = new Map<string, number>();
      for (const [kind, there] of moves[at]!) classes.split(kind, numberIn(places, there.join()));
      classes.next();
      for (const way of states[at]!.ways) if (way.rule >= 0 && !way.table) called.add(way.rule);
    }
    for (const each of called) {
      ofRule(each).forEach((part, kind) => {
        if (part > 0) classes.split(kind, part);
      });
      classes.next();
    }
    isOpen.delete(rule);
    return (known[rule] = classes.numbered());
  };
  return names.map((_, rule) => ofRule(rule));
}

/** No answer to {@link Partition} is as great: rules have fewer classes, and states fewer ways. */
const tooGreat = 0x10000;

/** Kinds in classes, which are split finer by one question after another. */
class Partition {
  readonly #classOf: Int32Array;
  #count = 1;
  /** Within one question: by class and answer, the class that its members go to. */
  readonly #parts = new Map<number, number>();

  constructor(kindCount: number) {
    this.#classOf = new Int32Array(kindCount);
  }

  /** A kind that is not asked stays where it is. @param answer - less than {@link tooGreat} */
  split(kind: number, answer: number) {
    const key = this.#classOf[kind]! * tooGreat + answer;
    let part = this.#parts.get(key);
    if (part === undefined) this.#parts.set(key, (part = this.#count++));
    this.#classOf[kind] = part;
  }

  next() {
    this.#parts.clear();
  }

  /** By kind: the classes numbered from 1; 0 for kinds that were never asked. */
  numbered(): Uint16Array {
    const numbers = new Map<number, number>([[0, 0]]);
    const numbered = new Uint16Array(this.#classOf.length);
    // A rule asks about few of all the kinds.
    this.#classOf.forEach((each, kind) => {
      if (each > 0) numbered[kind] = numberIn(numbers, each);
    });
    return numbered;
  }
}

/** A number for each key, from 0 on, in the order in which they are met. */
function numberIn<Key>(numbers: Map<Key, number>, key: Key): number {
  let number = numbers.get(key);
  if (number === undefined) numbers.set(key, (number = numbers.size));
  return number;
}
