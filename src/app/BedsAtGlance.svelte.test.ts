import { describe, expect, test } from 'vitest';
import type { Entry } from '../charting/entry.ts';
import type { LedgerEvent } from '../charting/events.ts';
import type { GroupQuery } from '../storage/ledger.ts';
import { BedsAtGlance } from './BedsAtGlance.svelte.ts';

const hour = 3_600_000;
const now = 100 * hour;

/** An entry as the fold gives it; only what the glance reads. */
const entry = (hoursAgo: number, more: Partial<Entry> = {}) =>
  ({
    kind: 'urineCatheter',
    status: 'preliminary',
    readAt: { ms: now - hoursAgo * hour, offset: 0 },
    ...more,
  }) as Entry;

async function glanceAt(entries: readonly Entry[], refused = false) {
  const asked: GroupQuery[] = [];
  const glance = new BedsAtGlance({
    ledger: {
      groups: (query) => {
        asked.push(query);
        return Promise.resolve(
          refused
            ? { ok: false, fault: 'storage_failed' }
            : { ok: true, value: entries as unknown as LedgerEvent[][] },
        );
      },
    },
    fold: (events) => events as unknown as Entry,
    now: () => now,
    dueAfter: () => 8,
  });
  await glance.refresh(['Bed 4']);
  return { asked, last: glance.of('Bed 4') };
}

describe('When the beds are looked over', () => {
  test('the record is asked by bed, and the newest emptying counts', async () => {
    const { asked, last } = await glanceAt([entry(9), entry(2)]);
    expect(asked).toMatchObject([{ kind: 'entry', bed: 'Bed 4' }]);
    expect(last).toEqual({ at: now - 2 * hour, ago: 2 * hour, isDue: false });
  });

  test('at 8 h it is due, one millisecond before it is not', async () => {
    expect((await glanceAt([entry(8)])).last?.isDue).toBe(true);
    expect((await glanceAt([entry(8 - 1 / hour)])).last?.isDue).toBe(false);
  });

  test.each([
    ['what was struck', entry(2, { status: 'entered-in-error' })],
    ['what was drunk', entry(2, { kind: 'oralFluid' })],
    ['a reading whose time is not known', entry(2, { readAt: null })],
  ])('%s is no emptying', async (_, other) => {
    expect((await glanceAt([entry(5), other])).last?.ago).toBe(5 * hour);
    expect((await glanceAt([other])).last).toBeNull();
  });

  test('what the record refuses is left out', async () => {
    expect((await glanceAt([entry(2)], true)).last).toBeNull();
  });
});
