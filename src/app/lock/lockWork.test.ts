import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { aide, draftFact, nurse, Pen } from '../../../tests/support/ledgerStory.ts';
import { strictRules } from '../../charting/reviewRules.ts';
import { BrowserLedger } from '../../storage/browserLedger.ts';
import { plainCipher, type Cipher } from '../../storage/cipher.ts';
import { Database } from '../../storage/database.ts';
import { StateStore } from '../../storage/stateStore.ts';
import { lockOf } from '../../storage/vault/lockRecord.ts';
import { LockShelf } from '../../storage/vault/lockShelf.ts';
import { leastCost } from '../../storage/vault/stretch.ts';
import { unlock } from '../../storage/vault/vault.ts';
import { LockWork } from './lockWork.ts';

const setup = { initials: 'BO', role: 'setup' } as const;
const now = Date.UTC(2026, 2, 2, 7);

/** A device on which every stretching takes `ms` by its clock. */
async function device(ms: number) {
  const factory = new IDBFactory();
  const database = (name: string) => new Database(factory, name, () => name);
  const recordIn = (name: string, cipher: Cipher) => ({
    ledger: new BrowserLedger(database(name), cipher, () => strictRules),
    states: new StateStore(database(name), cipher),
  });
  const plain = recordIn('gloveside', plainCipher);
  const event = await new Pen().write(aide, draftFact());
  await plain.ledger.append([event]);
  const shelf = new LockShelf(database('gloveside'));
  let clock = 0;
  const work = new LockWork({
    shelf,
    plain: () => plain,
    sealed: recordIn,
    clock: () => (clock += ms),
  });
  const lock = async () => {
    const kept = await shelf.take();
    const there = lockOf(kept.ok ? kept.value : undefined);
    if (there === null) throw new Error('no lock');
    return there;
  };
  const enter = async (who: string | null, pin: string) => {
    const done = await unlock((await lock()).vault, who, pin, now);
    return done.ok ? done.vault : done.fault;
  };
  return { work, plain, event, recordIn, shelf, lock, enter };
}

async function locked() {
  const tablet = await device(1_000);
  const prepared = await tablet.work.prepare({ kind: 'pin', by: setup, pin: '480271' });
  const told: number[] = [];
  expect(await prepared.put({ told: (done) => told.push(done) })).toEqual({
    ok: true,
    value: undefined,
  });
  const vault = await tablet.enter('BO', '480271');
  if (typeof vault === 'string') throw new Error(vault);
  return { ...tablet, prepared, told, vault };
}

describe('When a unit is locked', { timeout: 60_000 }, () => {
  test('the record is where the lock says, under its key, and not in the clear', async () => {
    const { plain, event, recordIn, lock, vault, told } = await locked();
    expect(await plain.ledger.count()).toEqual({ ok: true, value: 0 });
    const { ledger } = recordIn((await lock()).place, vault.cipher);
    expect(await ledger.read(null, 10)).toEqual({
      ok: true,
      value: { events: [event], next: null },
    });
    expect(told).toEqual([1]);
  });

  test('on a slow device a PIN costs the least that is allowed', async () => {
    const { lock } = await locked();
    expect((await lock()).vault.slots.map(({ cost }) => cost)).toEqual([leastCost, leastCost]);
  });

  test('a PIN is given, renewed, and taken with the roster', async () => {
    const { work, vault, enter } = await locked();
    await work.setSecret(vault, { kind: 'pin', by: nurse, pin: '135790' });
    expect(await work.members(vault)).toEqual([setup, nurse]);
    expect(await enter('RN', '135790')).toMatchObject({ by: nurse });
    await work.setSecret(vault, { kind: 'pin', by: nurse, pin: '246813' });
    expect(await enter('RN', '135790')).toBe('pin_wrong');
    expect(await work.followRoster(vault, [setup])).toBe(true);
    expect(await enter('RN', '246813')).toBe('slot_missing');
    expect(await work.followRoster(vault, [nurse])).toBe(false);
    expect(await enter('BO', '480271')).toMatchObject({ by: setup });
  });

  test('a new code takes the place of the old one', async () => {
    const { work, vault, prepared, enter } = await locked();
    const code = await work.newCode(vault);
    expect(await enter(null, prepared.code)).toBe('pin_wrong');
    expect(await enter(null, code)).toMatchObject({ kind: 'recovery' });
  });

  test('taken off, the record is back in the clear and the lock is gone', async () => {
    const { work, vault, plain, event, shelf } = await locked();
    expect(await work.open(vault, {})).toEqual({ ok: true, value: undefined });
    expect(await shelf.take()).toEqual({ ok: true, value: undefined });
    expect(await plain.ledger.read(null, 10)).toEqual({
      ok: true,
      value: { events: [event], next: null },
    });
  });

  test('a lock that was made and not put on changes nothing', async () => {
    const { work, plain, shelf } = await device(1_000);
    await work.prepare({ kind: 'unit', by: setup, pin: 'blue kettle' });
    expect(await shelf.take()).toEqual({ ok: true, value: undefined });
    expect(await plain.ledger.count()).toEqual({ ok: true, value: 1 });
  });
});
