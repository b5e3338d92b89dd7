import { describe, expect, test } from 'vitest';
import { entryStatuses, statusAfter, type Act, type EntryStatus } from './status.ts';

const none = null;
const table: readonly [EntryStatus, Act, EntryStatus | null][] = [
  ['preliminary', 'confirm', 'final'],
  ['preliminary', 'amend', 'preliminary'],
  ['preliminary', 'strike', 'entered-in-error'],
  ['final', 'confirm', none],
  ['final', 'amend', 'amended'],
  ['final', 'strike', 'entered-in-error'],
  ['amended', 'confirm', none],
  ['amended', 'amend', 'amended'],
  ['amended', 'strike', 'entered-in-error'],
  ['entered-in-error', 'confirm', none],
  ['entered-in-error', 'amend', none],
  ['entered-in-error', 'strike', none],
];

describe('When an act meets a status', () => {
  test.each(table)('%s, %s: %s', (status, act, after) => {
    expect(statusAfter(status, act)).toBe(after);
  });

  test('the table above names every pair once', () => {
    const pairs = new Set(table.map(([status, act]) => `${status} ${act}`));
    expect(pairs.size).toBe(table.length);
    expect(table).toHaveLength(entryStatuses.length * 3);
  });
});
