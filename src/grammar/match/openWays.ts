import type { State, Way } from './compileRules.ts';

/** Makes the bits of {@link Way.open}; equal ones are one array, for the processor's cache. */
export function openWays(
  states: readonly State[],
  entry: readonly number[],
  kindOf: readonly number[],
): (way: Way) => Uint32Array {
  const size = (Math.max(...kindOf) + 2 + 31) >> 5;
  const shared = new Map<string, Uint32Array>();
  const anything = new Uint32Array(size).fill(0xffffffff);
  return (way) => {
    const bits = new Uint32Array(size);
    const add = (words: Iterable<number>) => {
      for (const word of words) bits[(kindOf[word]! + 1) >> 5]! |= 1 << ((kindOf[word]! + 1) & 31);
    };
    const next = states[way.to]!;
    if (way.word >= 0) add([way.word]);
    else if (way.table) add(way.table.keys());
    else {
      const first = way.action ? next : states[entry[way.rule]!]!;
      // What can be passed without a word is open to whatever follows, which is not known here.
      if (first.canEnd && (way.action || next.canEnd)) return anything;
      add(first.starts);
      if (first.canEnd) add(next.starts);
    }
    const key = bits.join();
    const same = shared.get(key);
    if (!same) shared.set(key, bits);
    return same ?? bits;
  };
}
