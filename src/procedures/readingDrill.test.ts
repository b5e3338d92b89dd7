import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultContainers } from '../measure/containers.ts';
import { isOnLine } from '../measure/lines.ts';
import { millilitres as mL } from '../measure/volume.ts';
import { drillLevel, judgeDrill } from './readingDrill.ts';

const graduate = defaultContainers[0]!.item;

describe('When a level is drawn', () => {
  it('it is within the container, whatever the dice', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...defaultContainers.map(({ item }) => item)),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (container, chance) => {
          const level = drillLevel(container, chance);
          expect(level).toBeGreaterThan(0);
          expect(level).toBeLessThanOrEqual(container.capacity);
          if (chance < 0.5) expect(isOnLine(container, level)).toBe(true);
        },
      ),
    );
  });

  it('the ends of the dice are the ends of the scale', () => {
    expect([0, 0.4999999, 0.5, 1].map((chance) => drillLevel(graduate, chance))).toEqual([
      25, 1000, 13, 1000,
    ]);
  });
});

describe('When a reading is judged', () => {
  it('too little and too much are told apart', () => {
    expect(judgeDrill(graduate, mL(350), mL(300), 'nearest').off).toBe(-50);
    expect(judgeDrill(graduate, mL(350), mL(400), 'nearest').off).toBe(50);
  });

  it('a number off the lines, and the lines it stood between, are named', () => {
    expect(judgeDrill(graduate, mL(362), mL(360), 'nearest')).toEqual({
      off: -2,
      within: true,
      line: 350,
      exact: false,
      onLine: false,
      gap: { below: 350, above: 375 },
    });
  });
});
