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
    kinds: () => ['urineCatheter', 'urineVoided', 'ostomy'],
  });
  await glance.refresh(['Bed 4']);
  return { asked, glance, lasts: glance.of('Bed 4') };
}

describe('When the beds are looked over', () => {
  test('the record is asked by bed, and the newest emptying counts', async () => {
    const { asked, lasts } = await glanceAt([entry(9), entry(2)]);
    expect(asked).toMatchObject([{ kind: 'entry', bed: 'Bed 4' }]);
    expect(lasts).toEqual([
      { kind: 'urineCatheter', at: now - 2 * hour, ago: 2 * hour, isDue: false },
    ]);
  });

  test('the newest is found in whatever order the record gives them', async () => {
    expect((await glanceAt([entry(2), entry(9)])).lasts?.[0]?.ago).toBe(2 * hour);
  });

  test('at 8 h it is due, one millisecond before it is not', async () => {
    expect((await glanceAt([entry(8)])).lasts?.[0]?.isDue).toBe(true);
    expect((await glanceAt([entry(8 - 1 / hour)])).lasts?.[0]?.isDue).toBe(false);
  });

  test('each kind is due by itself, the longest ago first', async () => {
    const { lasts } = await glanceAt([
      entry(3, { kind: 'ostomy' }),
      entry(9, { kind: 'urineVoided' }),
    ]);
    expect(lasts?.map(({ kind, isDue }) => [kind, isDue])).toEqual([
      ['urineVoided', true],
      ['ostomy', false],
    ]);
  });

  test.each([
    ['what was struck', entry(2, { status: 'entered-in-error' })],
    ['a kind that the unit does not want', entry(2, { kind: 'oralFluid' })],
    ['a reading whose time is not known', entry(2, { readAt: null })],
    ['an entry of no kind', entry(2, { kind: null })],
  ])('%s does not count', async (_, other) => {
    expect((await glanceAt([entry(5), other])).lasts?.map(({ ago }) => ago)).toEqual([5 * hour]);
    expect((await glanceAt([other])).lasts).toEqual([]);
  });

  test('what the record refuses is not taken for nothing', async () => {
    expect((await glanceAt([entry(2)], true)).lasts).toBeNull();
  });

  test('a bed that was not asked about is not known', async () => {
    const { glance } = await glanceAt([entry(2)]);
    expect(glance.of('Bed 5')).toBeNull();
  });
});
