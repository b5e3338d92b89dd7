import type { State, Way } from './compileRules.ts';

/** A larger set rules out too little to be worth asking for. */
const mostKinds = 60;

/** Kinds of words of which one must still come, as a way needs them. */
export interface NeededKinds {
  /** By state, by the place of the way in it: number of a set, or -1. */
  readonly ofWay: readonly (readonly number[])[];
  /** By kind: the sets that it is in. */
  readonly setsOf: readonly (readonly number[])[];
  readonly count: number;
}

/**
 * Finds what each way can not do without before its rule is at its end, so that it need not be
 * tried where none of it is said: no litres without a word for litre, no range without a "to".
 */
export function neededKinds(
  states: readonly State[],
  entry: readonly number[],
  kindOf: readonly number[],
): NeededKinds {
  type Needed = ReadonlySet<number> | null;
  const known: Needed[] = [];
  const isOpen = new Set<number>();
  const smaller = (a: Needed, b: Needed): Needed =>
    !a || !b ? (a ?? b) : a.size <= b.size ? a : b;
  const ofLabel = (way: Way): Needed => {
    if (way.word >= 0) return new Set([kindOf[way.word]!]);
    if (way.table) return new Set([...way.table.keys()].map((word) => kindOf[word]!));
    return way.rule >= 0 ? ofState(entry[way.rule]!) : null;
  };
  const ofWay = (way: Way) => smaller(ofLabel(way), ofState(way.to));
  const ofState = (at: number): Needed => {
    const before = known[at];
    if (before !== undefined) return before;
    // A ring needs what its other ways need; nothing is the safe answer.
    if (isOpen.has(at)) return null;
    const state = states[at]!;
    let all: Set<number> | null = state.isFinal ? null : new Set();
    if (all) {
      isOpen.add(at);
      for (const way of state.ways) {
        const needed = ofWay(way);
        if (!needed) {
          all = null;
          break;
        }
        for (const kind of needed) all.add(kind);
      }
      isOpen.delete(at);
      if (all && all.size > mostKinds) all = null;
    }
    known[at] = all;
    return all;
  };
  const sets = new Map<string, number>();
  const setsOf: number[][] = [];
  const numberOf = (needed: Needed): number => {
    if (!needed || needed.size > mostKinds) return -1;
    const key = [...needed].sort((a, b) => a - b).join();
    const before = sets.get(key);
    if (before !== undefined) return before;
    const number = sets.size;
    sets.set(key, number);
    for (const kind of needed) (setsOf[kind] ??= []).push(number);
    return number;
  };
  const numbers = states.map((state) => state.ways.map((way) => numberOf(ofWay(way))));
  return { ofWay: numbers, setsOf, count: sets.size };
}
