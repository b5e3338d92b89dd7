// Source: the IANA time zone rules as a second, independent Temporal implementation knows them
// (@js-temporal/polyfill); the app's own is the browser's, or temporal-polyfill where it has none.
import { Temporal as Second } from '@js-temporal/polyfill';
import { Temporal as First } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import {
  dayOn,
  eightHourShifts,
  hoursOf,
  shiftsOfDay,
  twelveHourShifts,
} from '../../src/charting/shifts.ts';
import type { TemporalApi } from '../../src/charting/temporal.ts';
import { momentAt, momentOfWall } from '../../src/charting/wallClock.ts';

// The two packages name the same classes by different types.
const second = Second as unknown as TemporalApi;

const nights: readonly (readonly [string, string])[] = [
  ['Europe/Berlin', '2026-03-29'],
  ['Europe/Berlin', '2026-10-25'],
  ['Europe/London', '2026-03-29'],
  ['America/New_York', '2026-03-08'],
  ['America/New_York', '2026-11-01'],
  ['America/St_Johns', '2026-03-08'],
  ['America/Sao_Paulo', '2018-11-04'],
  ['Australia/Lord_Howe', '2026-04-05'],
  ['Australia/Lord_Howe', '2026-10-04'],
  ['Asia/Kathmandu', '2026-06-01'],
  ['Asia/Kolkata', '2026-06-01'],
  ['Pacific/Chatham', '2026-04-05'],
  ['Pacific/Apia', '2011-12-30'],
  ['UTC', '2026-01-01'],
];

const plans = ['00:00', '02:30', '07:00', '23:00'].flatMap((dayFrom) =>
  [eightHourShifts, twelveHourShifts].map((shifts) => ({ dayFrom, shifts })),
);

// The second implementation is slow, and so is a busy machine.
describe('When a second implementation cuts the same days', { timeout: 120_000 }, () => {
  test.each(nights)('%s around %s', (zone, date) => {
    const around = [-1, 0, 1].map((days) => First.PlainDate.from(date).add({ days }).toString());
    for (const { dayFrom, shifts } of plans) {
      for (const on of around) {
        const plan = { zone, dayFrom, shifts };
        const day = dayOn(First, plan, on);
        expect(dayOn(second, plan, on)).toEqual(day);
        expect(shiftsOfDay(second, plan, day)).toEqual(shiftsOfDay(First, plan, day));
        expect(hoursOf(second, zone, day)).toEqual(hoursOf(First, zone, day));
      }
    }
  });

  test.each(nights)('%s on %s, every half hour of the clock', (zone, date) => {
    for (let half = 0; half < 48; half += 1) {
      const hour = String(Math.floor(half / 2)).padStart(2, '0');
      const time = `${hour}:${half % 2 === 0 ? '00' : '30'}`;
      const typed = momentOfWall(First, zone, date, time);
      expect(momentOfWall(second, zone, date, time)).toEqual(typed);
      if (typed.ok) expect(momentAt(second, zone, typed.moment.ms)).toEqual(typed.moment);
    }
  });
});

// Source: lengths of days by the rules of each zone, checked by hand against the tz database notes:
// EU and US changes are one hour, Lord Howe's is half an hour, Samoa left out 2011-12-30.
describe('When the length of a day is known', () => {
  test.each([
    ['Europe/Berlin', '2026-03-29', 23],
    ['Europe/Berlin', '2026-10-25', 25],
    ['America/New_York', '2026-03-08', 23],
    ['America/New_York', '2026-11-01', 25],
    ['Australia/Lord_Howe', '2026-04-05', 24.5],
    ['Australia/Lord_Howe', '2026-10-04', 23.5],
    ['Pacific/Apia', '2011-12-29', 24],
    ['Pacific/Apia', '2011-12-30', 0],
  ])('%s on %s has %d h', (zone, date, length) => {
    const day = dayOn(First, { zone, dayFrom: '00:00', shifts: eightHourShifts }, date);
    expect((day.to - day.from) / 3_600_000).toBe(length);
  });
});
