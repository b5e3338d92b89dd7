import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { isDate, momentAt, momentOfWall } from './wallClock.ts';

const zone = 'Europe/Berlin';
const wall = (date: string, time: string) => momentOfWall(Temporal, zone, date, time);

describe('When a time is typed', () => {
  test('it is the instant with the offset of that day', () => {
    expect(wall('2026-03-02', '06:42')).toEqual({
      ok: true,
      moment: { ms: Date.UTC(2026, 2, 2, 5, 42), offset: 60 },
    });
  });

  test('the hour that happens twice is a question, earlier first', () => {
    expect(wall('2026-10-25', '02:30')).toEqual({
      ok: false,
      fault: 'time_twice',
      choices: [
        { ms: Date.UTC(2026, 9, 25, 0, 30), offset: 120 },
        { ms: Date.UTC(2026, 9, 25, 1, 30), offset: 60 },
      ],
    });
  });

  test.each([
    ['2026-10-25', '01:59', true],
    ['2026-10-25', '03:00', true],
    ['2026-03-29', '01:59', true],
    ['2026-03-29', '03:00', true],
  ])('beside the change, %s %s is plain', (date, time, ok) => {
    expect(wall(date, time).ok).toBe(ok);
  });

  test.each(['02:00', '02:30', '02:59'])('%s on the night it is skipped did not happen', (time) => {
    expect(wall('2026-03-29', time)).toEqual({ ok: false, fault: 'time_skipped' });
  });

  test.each([
    ['2026-03-02', '24:00'],
    ['2026-03-02', '6:42'],
    ['2026-03-02', '0642'],
    ['2026-02-30', '06:42'],
    ['02.03.2026', '06:42'],
    ['', ''],
  ])('%s %s is no time', (date, time) => {
    expect(wall(date, time)).toEqual({ ok: false, fault: 'time_malformed' });
  });
});

describe('When a date is written by hand', () => {
  test.each([
    ['2026-02-28', true],
    ['2028-02-29', true],
    ['2026-02-29', false],
    ['2026-13-01', false],
    ['2026-2-1', false],
    ['yesterday', false],
    ['', false],
  ])('%s: %s', (date, known) => {
    expect(isDate(Temporal, date)).toBe(known);
  });
});

describe('When a moment is made from an instant', () => {
  test.each([
    ['Asia/Kathmandu', 345],
    ['America/St_Johns', -150],
    ['UTC', 0],
  ])('%s shows an offset of %d min in July', (own, offset) => {
    const ms = Date.UTC(2026, 6, 1);
    expect(momentAt(Temporal, own, ms)).toEqual({ ms, offset });
  });
});
