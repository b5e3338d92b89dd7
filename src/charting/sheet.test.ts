import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { entryAt, estimated, folded } from '../../tests/support/entries.ts';
import { draftFact, nurse, Pen, aide, at } from '../../tests/support/ledgerStory.ts';
import { sheetOf, wingOf } from './sheet.ts';
import { dayOn, eightHourShifts, type ShiftPlan } from './shifts.ts';
import { sumsOf, withWaiting } from './sums.ts';

const plan: ShiftPlan = { zone: 'Europe/Berlin', dayFrom: '07:00', shifts: eightHourShifts };
const day = dayOn(Temporal, plan, '2026-03-02');
const hour = 3_600_000;
const sheet = (entries: Parameters<typeof sheetOf>[4]) =>
  sheetOf(Temporal, plan, 'Bed 4', day, entries);

describe('When a sheet is made', { timeout: 60_000 }, () => {
  test('it has the bed and the day, and nothing else', async () => {
    const entries = [
      await entryAt(day.from, 'urineCatheter', 350),
      await entryAt(day.to - 1, 'urineCatheter', 100),
      await entryAt(day.from - 1, 'urineCatheter', 5_000),
      await entryAt(day.to, 'urineCatheter', 5_000),
      await entryAt(day.from, 'urineCatheter', 5_000, { bed: 'Bed 40' }),
    ];
    expect(sheet(entries).total.output.confirmed).toMatchObject({ measured: 450, entries: 2 });
  });

  test('each hour and shift has its own, and a balance that runs', async () => {
    const made = sheet([
      await entryAt(day.from, 'oralFluid', 240),
      await entryAt(day.from + 9 * hour, 'urineCatheter', 400),
      await entryAt(day.from + 9 * hour + 1, 'emesis', 50),
    ]);
    expect(
      made.shifts.map(({ span, sums }) => [span.name, sums.balance.confirmed.measured]),
    ).toEqual([
      ['day', 240],
      ['evening', -450],
      ['night', 0],
    ]);
    expect(made.hours).toHaveLength(24);
    expect([0, 8, 9, 23].map((place) => made.hours[place]?.running)).toEqual([
      240, 240, -210, -210,
    ]);
    expect(made.hours[9]?.entries).toHaveLength(2);
  });

  test('preliminary amounts are shown and not counted as confirmed', async () => {
    const { total } = sheet([
      await entryAt(day.from, 'urineCatheter', 350),
      await entryAt(day.from, 'urineCatheter', 150, { confirmed: false }),
    ]);
    expect(total.output.confirmed.measured).toBe(350);
    expect(total.output.waiting.measured).toBe(150);
    expect(withWaiting(total.output).measured).toBe(500);
    expect([total.balance.confirmed.measured, total.balance.withWaiting.measured]).toEqual([
      -350, -500,
    ]);
  });

  test('measured and estimated stay apart, unmeasured is counted and never 0 mL', async () => {
    const { total } = sheet([
      await entryAt(day.from, 'urineVoided', 200),
      await entryAt(day.from, 'urineVoided', 0, { amount: estimated(300) }),
      await entryAt(day.from, 'urineVoided', 0, { amount: { method: 'unmeasured', count: 2 } }),
    ]);
    expect(total.output.confirmed).toEqual({
      measured: 200,
      estimated: 300,
      unmeasured: 2,
      entries: 3,
    });
    expect(total.balance.confirmed).toEqual({ measured: -200, estimated: -300, whole: false });
    expect(total.byKind.urineVoided?.confirmed.entries).toBe(3);
  });

  test('measured alone is a whole balance', async () => {
    const { total } = sheet([await entryAt(day.from, 'urineVoided', 200)]);
    expect(total.balance.confirmed.whole).toBe(true);
  });

  test('what is struck counts nowhere and stays in sight; what is open is counted as open', async () => {
    const pen = new Pen(day.from + hour);
    const fact = draftFact({ readAt: at(day.from) });
    const draft = await pen.write(aide, fact);
    const struck = await pen.write(nurse, {
      type: 'entry.struck',
      entry: fact.entry,
      saw: draft.id,
      reason: 'wrong bed',
    });
    const made = sheet([
      folded([draft, struck]),
      await entryAt(day.from, 'urineCatheter', 0, { amount: null, confirmed: false }),
      await entryAt(day.from, 'urineCatheter', 0, { kind: null, confirmed: false }),
    ]);
    expect(made.entries).toHaveLength(3);
    expect(made.total).toMatchObject({ open: 2, output: sumsOf([]).output });
  });

  test('an empty day is all zero', () => {
    expect(sheet([]).total).toEqual(sumsOf([]));
  });

  test('hours and shifts add up to the day, on days of 23, 24 and 25 h', async () => {
    const dates = fc.constantFrom('2026-03-28', '2026-06-01', '2026-10-24');
    const readings = fc.array(
      fc.record({
        part: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
        kind: fc.constantFrom('oralFluid', 'urineCatheter', 'ostomy'),
        mL: fc.nat(2_000),
        confirmed: fc.boolean(),
      }),
      { maxLength: 12 },
    );
    await fc.assert(
      fc.asyncProperty(dates, readings, async (date, list) => {
        const own = dayOn(Temporal, plan, date);
        const entries = await Promise.all(
          list.map(({ part, kind, mL, confirmed }) =>
            entryAt(own.from + Math.floor(part * (own.to - own.from)), kind, mL, { confirmed }),
          ),
        );
        const made = sheetOf(Temporal, plan, 'Bed 4', own, entries);
        for (const parts of [made.hours, made.shifts]) {
          const sum = (read: (sums: (typeof parts)[0]['sums']) => number) =>
            parts.reduce((total, { sums }) => total + read(sums), 0);
          expect(sum((it) => it.intake.confirmed.measured)).toBe(
            made.total.intake.confirmed.measured,
          );
          expect(sum((it) => it.output.waiting.measured)).toBe(made.total.output.waiting.measured);
          expect(sum((it) => it.balance.withWaiting.measured)).toBe(
            made.total.balance.withWaiting.measured,
          );
        }
        expect(made.hours.at(-1)?.running).toBe(made.total.balance.withWaiting.measured);
      }),
      { numRuns: 40 },
    );
  });
});

describe('When a wing is made', () => {
  test('every bed has a row, in the order given, and the total is theirs', async () => {
    const span = { from: day.from, to: day.from + 8 * hour };
    const entries = [
      await entryAt(span.from, 'urineCatheter', 350, { bed: 'Bed 2' }),
      await entryAt(span.to, 'urineCatheter', 999, { bed: 'Bed 2' }),
      await entryAt(span.from, 'oralFluid', 200, { bed: 'Bed 9' }),
      await entryAt(span.from, 'oralFluid', 100, { bed: null, confirmed: false }),
    ];
    const wing = wingOf(['Bed 1', 'Bed 2'], span, entries);
    expect(wing.rows.map(({ bed, sums }) => [bed, sums.balance.withWaiting.measured])).toEqual([
      ['Bed 1', 0],
      ['Bed 2', -350],
      ['', 100],
      ['Bed 9', 200],
    ]);
    expect(wing.total.balance.withWaiting.measured).toBe(-50);
  });
});
