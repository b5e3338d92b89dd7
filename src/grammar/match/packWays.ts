import type { CompiledRules } from './compileRules.ts';

/**
 * The states as flat arrays of numbers. They are all that the first pass reads, and lie close
 * together in memory; as objects they would miss the processor's cache at each step.
 */
export interface PackedWays {
  readonly isFinal: Uint8Array;
  /** By state, with one more at the end: where its ways begin. */
  readonly first: Int32Array;
  /* By way: */
  readonly to: Int32Array;
  /** Kind of the word it takes, or -2. */
  readonly kind: Int16Array;
  /** The rule it calls, or -1; a rule of one word is {@link oneWord}. */
  readonly rule: Int16Array;
  readonly needs: Int16Array;
  /** Where its bits begin in {@link bits}: bit n for kind n - 1. */
  readonly open: Int32Array;
  readonly bits: Uint32Array;
}

/** Stands in `rule` for a rule that takes one word and is looked up. */
export const oneWord = -2;
const noKind = -2;

export function packWays({ states, kindOf }: CompiledRules): PackedWays {
  const count = states.reduce((sum, { ways }) => sum + ways.length, 0);
  const packed = {
    isFinal: Uint8Array.from(states, ({ isFinal }) => Number(isFinal)),
    first: new Int32Array(states.length + 1),
    to: new Int32Array(count),
    kind: new Int16Array(count).fill(noKind),
    rule: new Int16Array(count).fill(-1),
    needs: new Int16Array(count),
    open: new Int32Array(count),
  };
  const pool: number[] = [];
  const placeOf = new Map<Uint32Array, number>();
  let at = 0;
  states.forEach(({ ways }, state) => {
    packed.first[state] = at;
    for (const way of ways) {
      packed.to[at] = way.to;
      packed.needs[at] = way.needs;
      if (way.word >= 0) packed.kind[at] = kindOf[way.word]!;
      else if (way.rule >= 0) packed.rule[at] = way.table ? oneWord : way.rule;
      let place = placeOf.get(way.open);
      if (place === undefined) {
        place = pool.length;
        placeOf.set(way.open, place);
        for (const bits of way.open) pool.push(bits);
      }
      packed.open[at] = place;
      at++;
    }
  });
  packed.first[states.length] = at;
  return { ...packed, bits: Uint32Array.from(pool) };
}
