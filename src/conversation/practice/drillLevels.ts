import type { Container } from '../../measure/vessel.ts';
import type { Millilitres } from '../../measure/volume.ts';
import { drillLevel } from '../../procedures/readingDrill.ts';

/** Levels in one round: enough to see a habit, few enough to end before the attention does. */
export const levelsInRound = 6;

/** Seeds are this many and have four digits, so that one can be read out and typed. */
export const seeds = 10_000;

/**
 * The levels of a round: the same seed and container give the same levels.
 *
 * @param seed - whole, 0 to 9999
 */
export function drillLevels(
  container: Container,
  seed: number,
  count = levelsInRound,
): Millilitres[] {
  const chance = chancesOf(seed);
  const levels: Millilitres[] = [];
  for (let drawn = 0; levels.length < count; drawn += 1) {
    const level = drillLevel(container, chance());
    // The level before, once more, would look like a picture that did not change. A vessel may have
    // but one level, so the search has an end.
    if (level !== levels.at(-1) || drawn > 20 * count) levels.push(level);
  }
  return levels;
}

/** Chances from 0 to 1, by counting on from the seed and mixing the bits of the count. */
function chancesOf(seed: number): () => number {
  let count = Math.imul(seed + 1, 0x9e37_79b1);
  return () => {
    count = (count + 0x6d2b_79f5) | 0;
    let mixed = Math.imul(count ^ (count >>> 15), count | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
