import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defaultContainers } from '../../measure/containers.ts';
import { millilitres as mL } from '../../measure/volume.ts';
import { drillLevels, levelsInRound, seeds } from './drillLevels.ts';

const containers = defaultContainers.map(({ item }) => item);
const seed = fc.integer({ min: 0, max: seeds - 1 });
const vessel = fc.constantFrom(...containers);

describe('When levels are drawn from a seed', () => {
  test('the same seed gives the same levels, as many as a round has', () => {
    fc.assert(
      fc.property(vessel, seed, (container, chosen) => {
        const levels = drillLevels(container, chosen);
        expect(levels).toHaveLength(levelsInRound);
        expect(drillLevels(container, chosen)).toEqual(levels);
      }),
    );
  });

  test('each can be read: above the bottom, not over the top, unlike the one before', () => {
    fc.assert(
      fc.property(vessel, seed, (container, chosen) => {
        const levels = drillLevels(container, chosen);
        for (const [index, level] of levels.entries()) {
          expect(level).toBeGreaterThanOrEqual(Math.ceil(container.lineStep / 2));
          expect(level).toBeLessThanOrEqual(container.capacity);
          expect(level).not.toBe(levels[index - 1]);
        }
      }),
    );
  });

  test('neighbouring seeds draw other levels, spread over the container', () => {
    const [graduate] = containers;
    const drawn = Array.from({ length: 50 }, (_, index) => drillLevels(graduate!, index));
    expect(new Set(drawn.map(String)).size).toBe(50);
    const all = drawn.flat();
    const low = all.filter((level) => level < graduate!.capacity / 2).length / all.length;
    expect(low).toBeGreaterThan(0.4);
    expect(low).toBeLessThan(0.6);
  });

  test('a vessel with a single level has only that', () => {
    const thimble = { ...containers[0]!, capacity: mL(1), lineStep: mL(1) };
    expect(new Set(drillLevels(thimble, 3))).toEqual(new Set([1]));
  });
});
