import { describe, expect, it } from 'vitest';
import { clockText, isoOf, offsetText } from './moment.ts';

const noon = Date.UTC(2026, 10, 25, 12, 0, 0);

describe('When a moment is written', () => {
  it.each([
    [0, '2026-11-25T12:00:00+00:00', '1200'],
    [60, '2026-11-25T13:00:00+01:00', '1300'],
    [-210, '2026-11-25T08:30:00-03:30', '0830'],
    [345, '2026-11-25T17:45:00+05:45', '1745'],
    [720, '2026-11-26T00:00:00+12:00', '0000'],
  ])('offset %d minutes', (offset, iso, clock) => {
    expect(isoOf({ ms: noon, offset })).toBe(iso);
    expect(clockText({ ms: noon, offset })).toBe(clock);
    expect(Date.parse(isoOf({ ms: noon, offset }))).toBe(noon);
  });

  it('an offset has its sign and four digits', () => {
    expect([0, -30, 570].map(offsetText)).toEqual(['+00:00', '-00:30', '+09:30']);
  });
});
