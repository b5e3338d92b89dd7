import { expect, test } from 'vitest';
import { dateText, shortDateText, spanText } from './dates.ts';

test.each([
  ['2026-11-24', 'Tuesday, November 24, 2026', 'Nov 24'],
  ['2028-02-29', 'Tuesday, February 29, 2028', 'Feb 29'],
  ['someday', 'someday', 'someday'],
])('%s is read as %s, or in short %s', (date, long, short) => {
  expect(dateText(date)).toBe(long);
  expect(shortDateText(date)).toBe(short);
});

const minute = 60_000;

test.each([
  [0, '0 s'],
  [59_000, '59 s'],
  [59_600, '1 min'],
  [minute, '1 min'],
  [59 * minute, '59 min'],
  [60 * minute, '1 h'],
  [95 * minute, '1 h 35 min'],
  [48 * 60 * minute, '2 days'],
  [74 * 60 * minute, '3 days 2 h'],
])('%i ms is %s', (ms, text) => {
  expect(spanText(ms)).toBe(text);
});
