import { describe, expect, test } from 'vitest';
import { askToPersist } from './persistence.ts';

const says = (persisted: boolean, persist: boolean) => ({
  persisted: async () => persisted,
  persist: async () => persist,
  estimate: async () => ({ usage: 10, quota: 100 }),
});

describe('When the browser is asked to keep our storage', () => {
  test.each([
    ['it has promised before', says(true, false), 'granted'],
    ['it grants it', says(false, true), 'granted'],
    ['it says no', says(false, false), 'refused'],
  ] as const)('%s: %s', async (_, manager, promise) => {
    expect(await askToPersist(manager)).toEqual({ promise, used: 10, quota: 100 });
  });

  test.each([
    ['there is no such thing', undefined],
    ['it can not be asked', {}],
    [
      'it throws',
      {
        persist: () => Promise.reject(new TypeError()),
        estimate: () => Promise.reject(new TypeError()),
      },
    ],
  ])('%s: unknown, and no sizes', async (_, manager) => {
    expect(await askToPersist(manager)).toEqual({ promise: 'unknown', used: null, quota: null });
  });
});
