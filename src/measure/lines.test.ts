import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultContainers } from './containers.ts';
import { gapAround, isOnLine, linesOf, roundToLine } from './lines.ts';
import type { Container } from './vessel.ts';
import { millilitres } from './volume.ts';

const vessel = (capacity: number, lineStep: number): Container => ({
  id: 'c',
  label: 'c',
  kind: 'graduate',
  capacity: millilitres(capacity),
  lineStep: millilitres(lineStep),
});
const graduate = vessel(1000, 25);
const mL = millilitres;

describe('When a container has its lines', () => {
  it('a 1000 mL graduate with a line every 25 mL has forty', () => {
    const lines = linesOf(graduate);
    expect(lines).toHaveLength(40);
    expect([lines[0], lines.at(-1)]).toEqual([25, 1000]);
  });

  it('the top is a line even where the step does not meet it', () => {
    expect(linesOf(vessel(240, 100))).toEqual([100, 200, 240]);
    expect(gapAround(vessel(240, 100), mL(230))).toEqual({ below: 200, above: 240 });
  });

  it.each([
    [0, true],
    [25, true],
    [437, false],
    [1000, true],
    [1025, false],
  ])('%d mL on a line: %s', (level, on) => {
    expect(isOnLine(graduate, mL(level))).toBe(on);
  });

  it.each([
    [437, { below: 425, above: 450 }],
    [1, { below: 0, above: 25 }],
    [999, { below: 975, above: 1000 }],
    [450, null],
    [1001, null],
  ])('%d mL stands between %o', (level, gap) => {
    expect(gapAround(graduate, mL(level))).toEqual(gap);
  });
});

describe('When a level is rounded to a line', () => {
  it.each([
    [362, 'nearest', 350],
    [363, 'nearest', 375],
    [362, 'up', 375],
    [351, 'up', 375],
    [350, 'up', 350],
    [12, 'nearest', 0],
    [13, 'nearest', 25],
  ] as const)('%d by %s is %d', (level, rounding, line) => {
    expect(roundToLine(graduate, mL(level), rounding)).toBe(line);
  });

  it('half-way takes the upper line', () => {
    expect(roundToLine(vessel(1000, 50), mL(375), 'nearest')).toBe(400);
  });

  it('above the top there is no line', () => {
    expect(roundToLine(graduate, mL(1001), 'nearest')).toBeNull();
  });

  it('a rounded level is on a line, within one step, and stays when rounded again', () => {
    const containers = defaultContainers.map(({ item }) => item);
    fc.assert(
      fc.property(
        fc.constantFrom(...containers),
        fc.nat(1200),
        fc.constantFrom('nearest' as const, 'up' as const),
        (container, level, rounding) => {
          const line = roundToLine(container, mL(level), rounding);
          if (line === null) return level > container.capacity;
          expect(roundToLine(container, line, rounding)).toBe(line);
          expect(isOnLine(container, line)).toBe(true);
          expect(rounding === 'up' ? line >= level : true).toBe(true);
          return Math.abs(line - level) < container.lineStep;
        },
      ),
    );
  });
});
