import { describe, expect, test } from 'vitest';
import { aide, nurse, Pen, storyStart } from '../../../tests/support/ledgerStory.ts';
import { strictRules } from '../../charting/reviewRules.ts';
import { MemoryLedger } from '../../storage/memoryLedger.ts';
import { mayBeForgotten } from './mayBeForgotten.ts';
import { UnitLock, usualIdle, type LockKind } from './UnitLock.svelte.ts';

function lockOfKind(kind: LockKind, kept?: unknown) {
  const ledger = new MemoryLedger(() => strictRules);
  const puts: unknown[] = [];
  const left: string[] = [];
  const state = { busy: false, walking: false, now: storyStart };
  const lock = new UnitLock({
    kind,
    vault: null,
    states: {
      take: () => Promise.resolve({ ok: true, value: kept }),
      put: (_, value) => {
        puts.push(value);
        return Promise.resolve({ ok: true, value: undefined });
      },
    },
    ledger,
    now: () => state.now,
    work: () => Promise.reject(new Error('nothing here changes a lock')),
    persist: () => Promise.resolve({ promise: 'refused', used: null, quota: null }),
    busy: () => state.busy,
    walking: () => state.walking,
    leave: (why) => {
      left.push(why);
      return Promise.resolve();
    },
  });
  return { lock, ledger, puts, left, state };
}

describe('When a person wants to change what the unit is set to', () => {
  test.each([
    ['none', 'aide', true],
    ['none', 'setup', true],
    ['unit', 'aide', false],
    ['unit', 'setup', true],
    ['pins', 'aide', false],
    ['pins', 'nurse', false],
    ['pins', 'setup', true],
  ] as const)('lock %s, role %s: %s', (kind, role, may) => {
    expect(lockOfKind(kind).lock.mayChange({ initials: 'AB', role })).toBe(may);
  });
});

describe('When the idle time is set', () => {
  test.each([
    [undefined, usualIdle],
    [12, 12],
    [0, usualIdle],
    [2.5, usualIdle],
    ['5', usualIdle],
    [61, usualIdle],
  ])('kept as %s it is %i min', async (kept, minutes) => {
    const { lock } = lockOfKind('pins', kept);
    await lock.open();
    expect(lock.idle).toBe(minutes);
  });

  test('what lies outside 1 to 60 min is not taken', async () => {
    const { lock, puts } = lockOfKind('pins');
    for (const minutes of [30, 0, 1_000]) await lock.setIdle(minutes);
    expect([lock.idle, puts]).toEqual([30, [30, 30, 30]]);
  });
});

describe('When somebody locks', () => {
  test('a unit without a lock stays open, and so does a busy page', async () => {
    const open = lockOfKind('none');
    const busy = lockOfKind('pins');
    busy.state.busy = true;
    expect([await open.lock.lockNow(), await busy.lock.lockNow()]).toEqual([false, false]);
    expect([...open.left, ...busy.left]).toEqual([]);
  });

  test('a walk on its way does not keep it from being locked, but from being taken off', async () => {
    const { lock, left, state } = lockOfKind('unit');
    state.walking = true;
    expect(lock.turnable).toBe(false);
    expect(await lock.lockNow()).toBe(true);
    expect(left).toEqual(['locked']);
  });
});

test('the notes of the lock are those of the last seven days, newest first, and nothing else', async () => {
  const { lock, ledger, state } = lockOfKind('pins');
  const pen = new Pen();
  const events = [
    await pen.write(aide, { type: 'lock.noted', what: 'locked' }),
    await pen.write(nurse, { type: 'page.viewed', page: 'queue', bed: null }),
    await pen.write(nurse, { type: 'lock.noted', what: 'unlocked' }),
  ];
  await ledger.append(events);
  state.now = storyStart + 7 * 24 * 3_600_000;
  expect((await lock.notes()).map(({ what }) => what)).toEqual(['unlocked', 'locked']);
  state.now += 2_000;
  expect((await lock.notes()).map(({ what }) => what)).toEqual(['unlocked']);
});

test.each([
  ['page.viewed', false, true],
  ['page.viewed', true, false],
] as const)(
  '%s, in the window that writes: %s, may be forgotten: %s',
  async (type, writes, may) => {
    const look = await new Pen().write(aide, { type, page: 'queue', bed: null });
    expect(mayBeForgotten(look, writes)).toBe(may);
    const decided = await new Pen().write(nurse, {
      type: 'alert.taken',
      alert: look.id,
      note: '',
    });
    expect(mayBeForgotten(decided, writes)).toBe(false);
  },
);
