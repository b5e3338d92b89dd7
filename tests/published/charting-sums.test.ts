import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { sheetOf } from '../../src/charting/sheet.ts';
import { dayOf, dayOn, eightHourShifts, twelveHourShifts } from '../../src/charting/shifts.ts';
import { totalsOf } from '../../src/exchange/total.ts';
import type { FluidKind } from '../../src/measure/fluid.ts';
import { isoOf } from '../../src/measure/moment.ts';
import { entryAt } from '../support/entries.ts';

const plan = { zone: 'UTC', dayFrom: '07:00', shifts: eightHourShifts };

// Source: HL7 Clinical Practice Guidelines IG, heart failure example: Observations
// chf-scenario1-urineout3 (LOINC 9192-6, 3.8 L/d) and chf-scenario1-netio3 (-2.1 L/d), both with
// effectivePeriod 2019-02-02T07:00Z to 2019-02-03T07:00Z. The example names no intake; with urine as
// the only output it must be 1.7 L, which is how it enters here.
describe('When the HL7 worked example of net intake and output is summed', () => {
  const start = Date.UTC(2019, 1, 2, 7);
  const hour = 3_600_000;

  async function example() {
    const day = dayOf(Temporal, plan, start);
    const parts: readonly [number, FluidKind, number][] = [
      [0, 'urineCatheter', 900],
      [8, 'urineCatheter', 1_500],
      [16, 'urineCatheter', 1_400],
      [1, 'oralFluid', 700],
      [10, 'oralFluid', 600],
      [23, 'oralFluid', 400],
    ];
    const entries = await Promise.all(
      parts.map(([after, kind, mL]) => entryAt(start + after * hour, kind, mL)),
    );
    return sheetOf(Temporal, plan, 'Bed 4', day, entries);
  }

  test('its day runs from 07:00 to 07:00 and its balance is -2.1 L', async () => {
    const { day, total } = await example();
    const [from, to] = [day.from, day.to].map((ms) => isoOf({ ms, offset: 0 }));
    expect([from, to]).toEqual(['2019-02-02T07:00:00+00:00', '2019-02-03T07:00:00+00:00']);
    expect(total.output.confirmed.measured).toBe(3_800);
    expect(total.balance.confirmed.measured).toBe(-2_100);
  });

  test('the balance goes out with that period', async () => {
    const sheet = await example();
    const moment = (ms: number) => ({ ms, offset: 0 });
    const moments = {
      start: moment(sheet.day.from),
      end: moment(sheet.day.to),
      issued: moment(sheet.day.to),
    };
    const [, output, balance] = totalsOf(sheet, moments, 'https://unit.example');
    expect(balance).toMatchObject({
      status: 'final',
      effectivePeriod: { start: '2019-02-02T07:00:00+00:00', end: '2019-02-03T07:00:00+00:00' },
      valueQuantity: { value: -2_100, code: 'mL' },
    });
    expect(output?.valueQuantity).toMatchObject({ value: 3_800, code: 'mL/d' });
  });
});

// Source: nursing intake and output problem set, shift 07 to 15: in 240 + 120 + 180 + 100 (ice,
// already counted at half) + 90 = 730; out 350 + 275 + 60 = 685; balance +45.
describe('When the nursing worked shift is summed', () => {
  const times: readonly [string, FluidKind, number][] = [
    ['07:00', 'oralFluid', 240],
    ['09:30', 'oralFluid', 120],
    ['12:00', 'oralFluid', 180],
    ['13:15', 'oralFluid', 100],
    ['14:59', 'oralFluid', 90],
    ['08:00', 'urineVoided', 350],
    ['11:40', 'urineVoided', 275],
    ['14:00', 'emesis', 60],
    // One minute before and at the end: the shifts on either side have these.
    ['06:59', 'urineVoided', 500],
    ['15:00', 'oralFluid', 500],
  ];

  test('730 in, 685 out, +45', async () => {
    const entries = await Promise.all(
      times.map(([time, kind, mL]) =>
        entryAt(Temporal.Instant.from(`2026-03-02T${time}Z`).epochMilliseconds, kind, mL),
      ),
    );
    const sheet = sheetOf(Temporal, plan, 'Bed 4', dayOn(Temporal, plan, '2026-03-02'), entries);
    const shift = sheet.shifts[0]?.sums;
    expect([
      shift?.intake.confirmed.measured,
      shift?.output.confirmed.measured,
      shift?.balance.confirmed.measured,
    ]).toEqual([730, 685, 45]);
  });
});

// Source: facility practice differs (07-15-23, 07-19, day closed at 07:00 or 24:00): common
// practice, no source. Whatever the edges, the shifts of a day add up to its 24 h total.
describe('When the shifts of a day are added up', { timeout: 60_000 }, () => {
  test.each([
    ['07:00', eightHourShifts],
    ['07:00', twelveHourShifts],
    ['00:00', eightHourShifts],
    ['00:00', twelveHourShifts],
    ['06:00', eightHourShifts],
  ])('closed at %s they make the 24 h total', async (dayFrom, shifts) => {
    const own = { zone: 'America/New_York', dayFrom, shifts };
    for (const date of ['2026-03-07', '2026-03-08', '2026-06-01', '2026-10-31', '2026-11-01']) {
      const day = dayOn(Temporal, own, date);
      const entries = [];
      for (let ms = day.from; ms < day.to; ms += 30 * 60_000) {
        entries.push(await entryAt(ms, 'urineCatheter', 7));
      }
      const sheet = sheetOf(Temporal, own, 'Bed 4', day, entries);
      const sum = sheet.shifts.reduce((all, { sums }) => all + sums.output.confirmed.measured, 0);
      expect(sum).toBe(entries.length * 7);
      expect(sheet.total.output.confirmed.measured).toBe(sum);
    }
  });
});
