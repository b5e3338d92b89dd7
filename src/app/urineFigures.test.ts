import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { entryAt, estimated } from '../../tests/support/entries.ts';
import { storyStart } from '../../tests/support/ledgerStory.ts';
import type { Entry } from '../charting/entry.ts';
import type { NotedFinding } from '../charting/evidence.ts';
import { sheetOf } from '../charting/sheet.ts';
import { dayOn, eightHourShifts } from '../charting/shifts.ts';
import { grams } from '../measure/weight.ts';
import { figuresOfDay, figuresOfEntry } from './urineFigures.ts';

const hour = 3_600_000;
const evidence = (...findings: readonly NotedFinding[]) => ({
  evidence: {
    heard: [],
    readBack: null,
    answer: null,
    tries: 1,
    findings,
    looks: [],
    working: null,
  },
});

describe('When an entry is looked at', () => {
  // Cases f and g of the worked table: 70 kg, 24 h; and 12 h of 400 mL, case d.
  test.each([
    [209, 6, 70, ['halfPerKgSixHours']],
    [210, 6, 70, []],
    [400, 12, 70, ['halfPerKgSixHours', 'halfPerKgTwelveHours']],
    [0, 12, null, ['noneTwelveHours']],
    [0, 11.9, null, []],
  ] as const)('%d mL in %d h at %s kg', async (mL, hours, kg, met) => {
    const findings: NotedFinding[] = [
      { code: 'sinceLast', numbers: { mL, hours } },
      ...(kg === null ? [] : [{ code: 'underHalfPerKg', numbers: { mL, hours, kg } }]),
    ];
    const entry = await entryAt(storyStart, 'urineCatheter', mL, evidence(...findings));
    expect(figuresOfEntry(entry)).toMatchObject({ mL, hours, met });
  });

  test.each([
    ['no emptying before', { ...evidence({ code: 'soundAlike', numbers: { mL: 350 } }) }],
    ['typed by hand', {}],
    ['not measured', { amount: estimated(350) }],
    ['no urine', { kind: 'emesis' as const }],
  ])('%s: no figures', async (_, over) => {
    const since = evidence({ code: 'sinceLast', numbers: { mL: 350, hours: 8 } });
    const given =
      'evidence' in over || Object.keys(over).length === 0 ? over : { ...since, ...over };
    expect(figuresOfEntry(await entryAt(storyStart, 'urineCatheter', 350, given))).toBeNull();
  });

  test('an amount that was changed since has none: they were of the other number', async () => {
    const since = evidence({ code: 'sinceLast', numbers: { mL: 350, hours: 8 } });
    const entry = await entryAt(storyStart, 'urineCatheter', 375, since);
    expect(figuresOfEntry(entry)).toBeNull();
  });
});

describe('When the day of a bed is looked at', () => {
  const plan = { zone: 'UTC', dayFrom: '07:00', shifts: eightHourShifts };
  const day = dayOn(Temporal, plan, '2026-03-02');
  const sheet = (...entries: readonly Entry[]) => sheetOf(Temporal, plan, 'Bed 4', day, entries);
  const urine = (mL: number, after = 1) =>
    entryAt(storyStart + after * hour, 'urineCatheter', mL, { confirmed: after !== 2 });

  test('the sum of a day that is over, waiting amounts too', async () => {
    const figures = figuresOfDay(sheet(await urine(200), await urine(199, 2)), null, day.to);
    expect(figures).toEqual({ mL: 399, hours: 24, rate: 16.6, perKg: null, met: ['under400Day'] });
  });

  test('with a weight on file its rate, a limit met exactly is not met', async () => {
    const met = async (mL: number) =>
      figuresOfDay(sheet(await urine(mL)), grams(70_000), day.to)?.met;
    expect(await met(504)).toEqual(['halfPerKgSixHours', 'halfPerKgTwelveHours']);
    expect(await met(503)).toContain('thirdPerKgDay');
    expect(await met(840)).toEqual([]);
  });

  test('a day that goes on, holds an estimate, an open number or nothing has no figures', async () => {
    const one = await urine(200);
    const guess = await entryAt(storyStart, 'urineVoided', 0, { amount: estimated(50) });
    const pad = await entryAt(storyStart, 'urinePad', 0, {
      amount: { method: 'unmeasured', count: 1 },
    });
    const open = await entryAt(storyStart, 'urineCatheter', 0, { amount: null, confirmed: false });
    expect(figuresOfDay(sheet(one), null, day.to - 1)).toBeNull();
    for (const other of [guess, pad, open]) {
      expect(figuresOfDay(sheet(one, other), null, day.to)).toBeNull();
    }
    expect(figuresOfDay(sheet(), null, day.to)).toBeNull();
    const emesis = await entryAt(storyStart, 'emesis', 300);
    expect(figuresOfDay(sheet(emesis), null, day.to)).toBeNull();
  });

  test('a day of 23 h has none: the definitions are of 24', async () => {
    const zone = { ...plan, zone: 'Europe/Berlin' };
    const short = dayOn(Temporal, zone, '2026-03-28');
    const entry = await entryAt(short.from + hour, 'urineCatheter', 300);
    const own = sheetOf(Temporal, zone, 'Bed 4', short, [entry]);
    expect(short.to - short.from).toBe(23 * hour);
    expect(figuresOfDay(own, null, short.to)).toBeNull();
  });
});
