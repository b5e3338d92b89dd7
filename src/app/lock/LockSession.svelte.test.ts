import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { Database } from '../../storage/database.ts';
import { lockOf } from '../../storage/vault/lockRecord.ts';
import { LockShelf } from '../../storage/vault/lockShelf.ts';
import { leastCost } from '../../storage/vault/stretch.ts';
import { newVault, waitAfter, type VaultRecord } from '../../storage/vault/vault.ts';
import { entryNotes } from './entryNotes.ts';
import { LockSession, type Entered } from './LockSession.svelte.ts';

const setup = { initials: 'BO', role: 'setup' } as const;
const start = Date.UTC(2026, 2, 2, 7);

let vault: VaultRecord;
let code: string;
let shelf: LockShelf;
let now: number;

beforeAll(async () => {
  const made = await newVault({ kind: 'pin', by: setup, pin: '480271' }, leastCost);
  vault = made.record;
  code = made.code;
});

beforeEach(async () => {
  now = start;
  shelf = new LockShelf(new Database(new IDBFactory(), 'gloveside', () => 'mark'));
  await shelf.put({ v: 1, place: 'gloveside-sealed-one', vault });
});

async function atTheLock() {
  const entered: Entered[] = [];
  const session = new LockSession({ shelf, now: () => now, entered: (who) => entered.push(who) });
  await session.open();
  return { session, entered };
}

async function countOnDisk(): Promise<number | undefined> {
  const kept = await shelf.take();
  return kept.ok ? lockOf(kept.value)?.vault.wrong.count : undefined;
}

describe('When somebody stands at the lock', { timeout: 60_000 }, () => {
  test('the right PIN lets in, with initials and role of the PIN and the place of the record', async () => {
    const { session, entered } = await atTheLock();
    await session.try('bo', '480271');
    expect(session.refused).toBeNull();
    expect(entered).toMatchObject([
      { kind: 'pins', place: 'gloveside-sealed-one', vault: { by: setup, kind: 'pin' } },
    ]);
  });

  test.each([
    ['a wrong PIN', 'BO'],
    ['nobody of that name', 'XX'],
  ])('%s is told with the same words, and counted on the disk', async (_, who) => {
    const { session, entered } = await atTheLock();
    await session.try(who, '480272');
    expect(session.refused).toBe('pin_wrong');
    expect(entered).toEqual([]);
    expect(await countOnDisk()).toBe(1);
  });

  test('after three wrong ones it waits, also after a reload, and the right one waits too', async () => {
    const { session } = await atTheLock();
    for (let n = 0; n < 3; n += 1) await session.try('BO', '480272');
    expect(session.wait).toBe(waitAfter(3) / 1_000);
    const again = await atTheLock();
    expect(again.session.wait).toBe(waitAfter(3) / 1_000);
    await again.session.try('BO', '480271');
    expect([again.session.refused, again.entered]).toEqual(['pin_wait', []]);
    now += waitAfter(3);
    expect(again.session.wait).toBe(0);
    await again.session.try('BO', '480271');
    expect(again.entered).toHaveLength(1);
  });

  test('what was wrong before goes into the record, and only then the count begins anew', async () => {
    const { session, entered } = await atTheLock();
    await session.try('BO', '480272');
    now += 60_000;
    await session.try('BO', '480271');
    const [who] = entered;
    if (who === undefined) throw new Error('not in');
    const at = (ms: number) => ({ ms, offset: 0 });
    expect(entryNotes(who, at)).toEqual([
      { type: 'lock.noted', what: 'refused', tries: 1, lastTry: at(start) },
      { type: 'lock.noted', what: 'unlocked' },
    ]);
    expect(await countOnDisk()).toBe(1);
    await who.settle();
    expect(await countOnDisk()).toBe(0);
  });

  test('the recovery code lets in, and is noted as what it is', async () => {
    const { session, entered } = await atTheLock();
    await session.try(null, code.toLowerCase());
    const [who] = entered;
    if (who === undefined) throw new Error('not in');
    expect(entryNotes(who, (ms) => ({ ms, offset: 0 }))).toEqual([
      { type: 'lock.noted', what: 'recovered' },
    ]);
  });

  test('a lock that can not be read says so and lets nobody in', async () => {
    await shelf.put({ v: 1, place: 'gloveside-sealed-one' });
    const { session, entered } = await atTheLock();
    await session.try('BO', '480271');
    expect([session.refused, entered]).toEqual(['lock_broken', []]);
  });
});
