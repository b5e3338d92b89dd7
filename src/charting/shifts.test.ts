import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import {
  dayOf,
  dayOn,
  eightHourShifts,
  hoursOf,
  planFaults,
  shiftOf,
  shiftsOfDay,
  twelveHourShifts,
  within,
  type ShiftPlan,
} from './shifts.ts';

const plan = (zone: string, dayFrom = '07:00', shifts = eightHourShifts): ShiftPlan => ({
  zone,
  dayFrom,
  shifts,
});
const berlin = plan('Europe/Berlin');
const msOf = (text: string) => Temporal.Instant.from(text).epochMilliseconds;
const hours = (span: { from: number; to: number }) => (span.to - span.from) / 3_600_000;

describe('When an instant lies at an edge', () => {
  test.each([
    ['2026-03-02T06:59:59.999+01:00', 'night', '2026-03-01'],
    ['2026-03-02T07:00:00+01:00', 'day', '2026-03-02'],
    ['2026-03-02T14:59:59.999+01:00', 'day', '2026-03-02'],
    ['2026-03-02T15:00:00+01:00', 'evening', '2026-03-02'],
    ['2026-03-02T23:00:00+01:00', 'night', '2026-03-02'],
    ['2026-03-03T00:00:00+01:00', 'night', '2026-03-02'],
  ])('%s is in the %s shift of %s', (text, name, date) => {
    expect(shiftOf(Temporal, berlin, msOf(text))).toMatchObject({ name, date });
  });

  test.each([
    ['07:00', '2026-03-02T06:59:59.999+01:00', '2026-03-01'],
    ['07:00', '2026-03-02T07:00:00+01:00', '2026-03-02'],
    ['00:00', '2026-03-01T23:59:59.999+01:00', '2026-03-01'],
    ['00:00', '2026-03-02T00:00:00+01:00', '2026-03-02'],
  ])('with a day from %s, %s belongs to %s', (dayFrom, text, date) => {
    expect(dayOf(Temporal, plan('Europe/Berlin', dayFrom), msOf(text)).date).toBe(date);
  });

  test('twelve-hour shifts have their own edges', () => {
    const own = plan('Europe/Berlin', '07:00', twelveHourShifts);
    expect(shiftOf(Temporal, own, msOf('2026-03-02T18:59:59+01:00')).name).toBe('day');
    expect(shiftOf(Temporal, own, msOf('2026-03-02T19:00:00+01:00')).name).toBe('night');
  });
});

describe('When the clocks are changed', () => {
  test.each([
    ['Europe/Berlin', '2026-03-28', '07:00', 23],
    ['Europe/Berlin', '2026-10-24', '07:00', 25],
    ['Europe/Berlin', '2026-03-29', '00:00', 23],
    ['Europe/Berlin', '2026-10-25', '00:00', 25],
    ['Australia/Lord_Howe', '2026-10-03', '07:00', 23.5],
    ['Australia/Lord_Howe', '2026-04-04', '07:00', 24.5],
    ['Asia/Kolkata', '2026-03-29', '07:00', 24],
  ])('the day in %s from %s %s has %d h', (zone, date, dayFrom, length) => {
    const day = dayOn(Temporal, plan(zone, dayFrom), date);
    expect(hours(day)).toBe(length);
  });

  test('the night shift has seven hours, or nine', () => {
    const nights = ['2026-03-28T22:30:00Z', '2026-10-24T21:30:00Z'].map((text) =>
      hours(shiftOf(Temporal, berlin, msOf(text))),
    );
    expect(nights).toEqual([7, 9]);
  });

  test('an edge that the clocks jump over counts from the jump', () => {
    const own = plan('Europe/Berlin', '02:30', [
      { name: 'one', from: '02:30' },
      { name: 'two', from: '03:00' },
      { name: 'three', from: '12:00' },
    ]);
    const day = dayOn(Temporal, own, '2026-03-29');
    expect(day.from).toBe(msOf('2026-03-29T01:30:00Z'));
    const shifts = shiftsOfDay(Temporal, own, day);
    expect(shifts.reduce((sum, shift) => sum + hours(shift), 0)).toBe(hours(day));
  });

  test('the hour that happens twice is two hours of the sheet, told apart by offset', () => {
    const day = dayOn(Temporal, plan('Europe/Berlin', '00:00'), '2026-10-25');
    const twice = hoursOf(Temporal, 'Europe/Berlin', day).filter(({ label }) => label === '0200');
    expect(twice.map(({ offset }) => offset)).toEqual([120, 60]);
    expect(hoursOf(Temporal, 'Europe/Berlin', day)).toHaveLength(25);
  });

  test('a change of half an hour cuts an hour in two', () => {
    const day = dayOn(Temporal, plan('Australia/Lord_Howe', '00:00'), '2026-04-05');
    const labels = hoursOf(Temporal, 'Australia/Lord_Howe', day).map(({ label }) => label);
    expect(labels.slice(0, 5)).toEqual(['0000', '0100', '0130', '0200', '0300']);
  });
});

describe('When a day is cut', { timeout: 60_000 }, () => {
  test('a day from midnight has the night shift twice, as its two ends', () => {
    const own = plan('Europe/Berlin', '00:00');
    const shifts = shiftsOfDay(Temporal, own, dayOn(Temporal, own, '2026-03-02'));
    expect(shifts.map(({ name, date }) => [name, date])).toEqual([
      ['night', '2026-03-01'],
      ['day', '2026-03-02'],
      ['evening', '2026-03-02'],
      ['night', '2026-03-02'],
    ]);
    expect(shifts.map(hours)).toEqual([7, 8, 8, 1]);
  });

  const zones = fc.constantFrom(
    'Europe/Berlin',
    'America/New_York',
    'America/St_Johns',
    'Australia/Lord_Howe',
    'Asia/Kathmandu',
    'Pacific/Apia',
    'UTC',
  );
  const edge = fc.tuple(fc.nat(23), fc.constantFrom('00', '30')).map(([hour, minute]) => {
    return `${String(hour).padStart(2, '0')}:${minute}`;
  });

  test('every instant is in one day, one shift and one hour, and the parts make the whole', () => {
    const instants = fc.integer({ min: Date.UTC(2020, 0, 1), max: Date.UTC(2030, 0, 1) });
    const edges = fc.uniqueArray(edge, { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(zones, edge, edges, instants, (zone, dayFrom, froms, ms) => {
        const own = plan(
          zone,
          dayFrom,
          froms.map((from) => ({ name: from, from })),
        );
        const day = dayOf(Temporal, own, ms);
        const shift = shiftOf(Temporal, own, ms);
        expect(within(day, ms) && within(shift, ms)).toBe(true);
        for (const parts of [shiftsOfDay(Temporal, own, day), hoursOf(Temporal, zone, day)]) {
          expect(parts.filter((part) => within(part, ms))).toHaveLength(1);
          expect(parts[0]?.from).toBe(day.from);
          expect(parts.at(-1)?.to).toBe(day.to);
          parts.forEach((part, place) => {
            const next = parts[place + 1];
            if (next) expect(part.to).toBe(next.from);
          });
        }
      }),
      { numRuns: 150 },
    );
  });
});

describe('When a plan can not be used', () => {
  test.each([
    [plan('Europe/Berlin'), []],
    [plan('Nowhere/Town'), ['zone_unknown']],
    [plan('UTC', '07:00', []), ['shifts_missing']],
    [plan('UTC', '24:00'), ['edge_malformed']],
    [plan('UTC', '07:00', [{ name: 'day', from: '7:00' }]), ['edge_malformed']],
    [
      plan('UTC', '07:00', [
        { name: 'a', from: '07:00' },
        { name: 'b', from: '07:00' },
      ]),
      ['edge_twice'],
    ],
  ])('%j: %j', (own, faults) => {
    expect(planFaults(Temporal, own)).toEqual(faults);
  });
});
