import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { entryAt, estimated } from '../../../tests/support/entries.ts';
import { storyStart } from '../../../tests/support/ledgerStory.ts';
import { storySettings } from '../../../tests/support/recordStory.ts';
import type { Entry } from '../../charting/entry.ts';
import { sheetOf } from '../../charting/sheet.ts';
import { dayOn } from '../../charting/shifts.ts';
import { chartBox, chartOf } from './chartShape.ts';
import { rowsOf } from './rows.ts';

const { plan } = storySettings;
const day = dayOn(Temporal, plan, '2026-03-02');
const hour = 3_600_000;
const sheetWith = (entries: readonly Entry[]) => sheetOf(Temporal, plan, 'Bed 4', day, entries);

describe('When a day is drawn', () => {
  test('intake stands on the zero line, output hangs from it, and waiting goes on where confirmed ends', async () => {
    const { bars, zero } = chartOf(
      sheetWith([
        await entryAt(storyStart, 'oralFluid', 240),
        await entryAt(storyStart, 'urineCatheter', 300),
        await entryAt(storyStart, 'urineCatheter', 100, { confirmed: false }),
      ]),
    );
    const [intake, output, waiting] = bars;
    expect(bars.map(({ side, waiting: is }) => [side, is])).toEqual([
      ['intake', false],
      ['output', false],
      ['output', true],
    ]);
    expect(intake!.y + intake!.height).toBeCloseTo(zero);
    expect(output!.y).toBeCloseTo(zero);
    expect(waiting!.y).toBeCloseTo(output!.y + output!.height);
    expect(output!.height / waiting!.height).toBeCloseTo(3);
    expect(intake!.height / output!.height).toBeCloseTo(0.8);
  });

  test('the balance runs from zero at the day’s edge to the last hour with a reading', async () => {
    const { line, zero } = chartOf(
      sheetWith([
        await entryAt(storyStart, 'oralFluid', 200),
        await entryAt(storyStart + 2 * hour, 'urineCatheter', 200),
      ]),
    );
    expect(line).toHaveLength(4);
    expect(line[0]).toEqual({ x: chartBox.left, y: zero });
    expect(line[1]!.y).toBeLessThan(zero);
    expect(line[3]!.y).toBeCloseTo(zero);
  });

  test('an estimate has no length: it stands in the table', async () => {
    const guess = await entryAt(storyStart, 'stoolLiquid', 150, { amount: estimated(150) });
    expect(chartOf(sheetWith([guess])).bars).toEqual([]);
  });

  test('an empty day has a zero line and no balance', () => {
    const { bars, line, ticks } = chartOf(sheetWith([]));
    expect([bars, line]).toEqual([[], []]);
    expect(ticks.map(({ mL }) => mL)).toContain(0);
  });

  test('whatever the amounts, all is inside the box and the marks are few', async () => {
    const amount = fc.integer({ min: 0, max: 60_000 });
    await fc.assert(
      fc.asyncProperty(amount, amount, async (taken, put) => {
        const { bars, line, ticks } = chartOf(
          sheetWith([
            await entryAt(storyStart, 'oralFluid', taken),
            await entryAt(storyStart + hour, 'urineCatheter', put),
          ]),
        );
        const ys = [...bars.flatMap(({ y, height }) => [y, y + height]), ...line.map(({ y }) => y)];
        for (const y of ys) {
          expect(y).toBeGreaterThanOrEqual(chartBox.top - 1e-6);
          expect(y).toBeLessThanOrEqual(chartBox.height - chartBox.bottom + 1e-6);
        }
        expect(ticks.length).toBeLessThanOrEqual(10);
      }),
      { numRuns: 50 },
    );
  });
});

test('each shift’s sums stand behind its last hour, also where an edge is inside an hour', () => {
  const odd = {
    ...plan,
    shifts: [
      { name: 'day', from: '06:30' },
      { name: 'night', from: '18:30' },
    ],
  };
  const rows = rowsOf(sheetOf(Temporal, odd, 'Bed 4', day, []));
  const shape = rows.map((row) =>
    row.kind === 'hour' ? row.hour.span.label : row.shift.span.name,
  );
  expect(shape).toHaveLength(27);
  expect(shape.slice(11, 14)).toEqual(['1800', 'day', '1900']);
  expect(shape.slice(-3)).toEqual(['0600', 'night', 'day']);
});
