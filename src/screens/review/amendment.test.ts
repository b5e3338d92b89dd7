import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { entryAt, measured } from '../../../tests/support/entries.ts';
import { at, storyStart } from '../../../tests/support/ledgerStory.ts';
import { momentOfWall } from '../../charting/wallClock.ts';
import { amendmentOf, clockOf, formOf, type AmendForm } from './amendment.ts';

const wallIn = (zone: string) => (date: string, time: string) =>
  momentOfWall(Temporal, zone, date, time);

async function amended(change: Partial<AmendForm>, over = {}, zone = 'UTC') {
  const entry = await entryAt(storyStart, 'urineCatheter', 350, over);
  return amendmentOf(entry, { ...formOf(entry), ...change }, wallIn(zone));
}

describe('When a slip is kept', () => {
  test.each<[string, Partial<AmendForm>, unknown]>([
    ['the amount', { mL: 325 }, { amount: { was: measured(350), is: measured(325) } }],
    [
      'how it was got',
      { method: 'estimated' },
      { amount: { was: measured(350), is: { ...measured(350), method: 'estimated' } } },
    ],
    [
      'that nothing was measured',
      { method: 'unmeasured', count: 2 },
      { amount: { was: measured(350), is: { method: 'unmeasured', count: 2 } } },
    ],
    ['the kind', { kind: 'emesis' }, { kind: { was: 'urineCatheter', is: 'emesis' } }],
    ['the bed', { bed: 'Bed 5' }, { bed: { was: 'Bed 4', is: 'Bed 5' } }],
    ['the initials', { reader: ' mk ' }, { reader: { was: 'TA', is: 'MK' } }],
    [
      'the time',
      { time: '0651' },
      { readAt: { was: at(storyStart), is: at(storyStart - 9 * 60_000) } },
    ],
  ])('it changes %s and nothing else', async (_, change, changes) => {
    expect(await amended(change)).toEqual({ ok: true, changes });
  });

  test.each<[string, Partial<AmendForm>, string]>([
    ['nothing', {}, 'nothing'],
    ['an empty amount', { mL: null }, 'badAmount'],
    ['half a mL', { mL: 350.5 }, 'badAmount'],
    ['less than nothing', { mL: -5 }, 'badAmount'],
    ['no episodes', { method: 'unmeasured', count: 0 }, 'badAmount'],
    ['a time that no clock shows', { time: '2561' }, 'time_malformed'],
    ['no time', { time: '', date: '' }, 'time_malformed'],
  ])('%s is said, and nothing is changed', async (_, change, fault) => {
    expect(await amended(change)).toEqual({ ok: false, fault });
  });

  test('fills stay where the amount does, and fall where it does not', async () => {
    const over = { amount: measured(950, 430) };
    const estimate = await amended({ method: 'estimated' }, over);
    expect(estimate).toMatchObject({ changes: { amount: { is: { fills: [950, 430] } } } });
    const other = await amended({ mL: 1300 }, over);
    expect(other).toMatchObject({ changes: { amount: { is: { mL: 1300, fills: [1300] } } } });
  });

  test('an open amount may stay open while the bed is set', async () => {
    const over = { amount: null, bed: null, confirmed: false };
    expect(await amended({ bed: 'Bed 5' }, over)).toEqual({
      ok: true,
      changes: { bed: { was: null, is: 'Bed 5' } },
    });
  });
});

describe('When the clocks were changed', () => {
  const berlin = 'Europe/Berlin';

  test('a time that was jumped over is refused', async () => {
    const made = await amended({ date: '2026-03-29', time: '0230' }, {}, berlin);
    expect(made).toEqual({ ok: false, fault: 'time_skipped' });
  });

  test.each([
    [false, 120],
    [true, 60],
  ])('the hour that happened twice is told apart', async (second, offset) => {
    const made = await amended({ date: '2026-10-25', time: '0230', second }, {}, berlin);
    expect(made).toMatchObject({ ok: true, changes: { readAt: { is: { offset } } } });
  });
});

test.each([
  ['0642', '06:42'],
  ['642', '06:42'],
  ['06:42', '06:42'],
  ['5', '00:05'],
  ['', '00:00'],
])('a time typed as "%s" is %s', (typed, clock) => {
  expect(clockOf(typed)).toBe(clock);
});
