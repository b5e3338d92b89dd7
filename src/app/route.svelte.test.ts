import { describe, expect, test } from 'vitest';
import { addressOf, routeOf } from './route.svelte.ts';

describe('When an address is read', () => {
  test.each([
    ['', 'bedside', []],
    ['#/review', 'review', []],
    ['#/review/Bed%204/2026-11-24', 'review', ['Bed 4', '2026-11-24']],
    ['#/nowhere', 'bedside', []],
    ['#/sheet/%E0%A4%A', 'sheet', ['%E0%A4%A']],
    ['#/%', 'bedside', []],
  ] as const)('%s leads to %s', (hash, place, parts) => {
    expect(routeOf(hash)).toEqual({ place, parts });
  });

  test('what was written as an address is read back the same', () => {
    const parts = ['Bed 4 / window', '50 %', '<b>'];
    expect(routeOf(addressOf('sheet', ...parts))).toEqual({ place: 'sheet', parts });
  });
});
