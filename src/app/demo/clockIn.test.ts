import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { clockText } from '../../measure/moment.ts';
import { clockIn } from './clockIn.ts';

// Offsets as IANA's time zone database has them.
const summer = Date.UTC(2026, 6, 1, 0, 4);
const winter = Date.UTC(2026, 10, 30, 0, 4);

describe('A clock in another zone than the device', () => {
  test.each([
    ['America/New_York', summer, -240, '2004'],
    ['America/New_York', winter, -300, '1904'],
    ['Asia/Kolkata', winter, 330, '0534'],
    ['America/St_Johns', winter, -210, '2034'],
    ['UTC', winter, 0, '0004'],
  ])('shows in %s at %d what hangs on the wall there', (zone, ms, offset, wall) => {
    const moment = clockIn(Temporal, () => zone).momentAt(ms);
    expect(moment).toEqual({ ms, offset });
    expect(clockText(moment)).toBe(wall);
  });

  test('has the offset of both sides of a change of the clocks', () => {
    const { momentAt } = clockIn(Temporal, () => 'America/New_York');
    const change = Date.UTC(2026, 10, 1, 6);
    expect(momentAt(change - 1).offset).toBe(-240);
    expect(momentAt(change).offset).toBe(-300);
  });

  test('reads the device for the instant', () => {
    const before = Date.now();
    const { ms } = clockIn(Temporal, () => 'UTC').now();
    expect(ms).toBeGreaterThanOrEqual(before);
    expect(ms).toBeLessThanOrEqual(Date.now());
  });
});
