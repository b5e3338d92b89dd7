import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { aide, draftFact, Pen } from '../../../tests/support/ledgerStory.ts';
import type { LedgerEvent } from '../../charting/events.ts';
import { strictRules } from '../../charting/reviewRules.ts';
import { BrowserLedger } from '../browserLedger.ts';
import { plainCipher, type Cipher } from '../cipher.ts';
import { Database } from '../database.ts';
import { StateStore } from '../stateStore.ts';
import { forgetOthers, LockShelf, sealedName } from './lockShelf.ts';
import { masterBytes, sealedCipher } from './sealedCipher.ts';
import { turnOff, turnOn } from './turnLock.ts';

const cipher = await sealedCipher(new Uint8Array(masterBytes).fill(7));
const place = sealedName('one');
const lock = { v: 1, place };
const walk = { v: 1, context: { bed: 'Bed 4711', settled: '350 mL' } };

class PowerCut extends Error {}

/** A device whose power is cut before its n-th writing transaction. */
function device(factory: IDBFactory, cutAt = Infinity) {
  let writes = 0;
  const opened = (name: string, by: Cipher) => {
    const database = new Database(factory, name, () => `mark of ${name}`);
    const use = database.use.bind(database);
    database.use = (stores, mode, run) => {
      if (mode === 'readwrite') writes += 1;
      if (writes > cutAt) throw new PowerCut();
      return use(stores, mode, run);
    };
    const ledger = new BrowserLedger(database, by, () => strictRules);
    return { database, ledger, states: new StateStore(database, by) };
  };
  const plain = opened('gloveside', plainCipher);
  const sealed = opened(place, cipher);
  const shelf = new LockShelf(plain.database);
  return { plain, sealed, shelf, part: 2, writes: () => writes };
}

async function filled(): Promise<{ factory: IDBFactory; events: LedgerEvent[] }> {
  const factory = new IDBFactory();
  const { plain } = device(factory);
  const pen = new Pen();
  const events: LedgerEvent[] = [];
  for (let n = 0; n < 5; n += 1) events.push(await pen.write(aide, draftFact({ bed: 'Bed 4711' })));
  await plain.ledger.append(events);
  await plain.states.put('walk', walk);
  await plain.states.put('device', pen.device);
  return { factory, events };
}

/** The record that a start would open: the sealed one where a lock lies there, else the plain one. */
async function standing(factory: IDBFactory) {
  const { plain, sealed, shelf } = device(factory);
  const there = await shelf.take();
  if (!there.ok) throw new Error(there.fault);
  const locked = there.value !== undefined;
  const { ledger, states } = locked ? sealed : plain;
  const page = await ledger.read(null, 100);
  const kept = await states.take('walk');
  return {
    locked,
    events: page.ok ? page.value.events : page.fault,
    walk: kept.ok ? kept.value : kept.fault,
  };
}

const turning = { on: true, off: false } as const;

async function turn(factory: IDBFactory, on: boolean, cutAt = Infinity): Promise<number> {
  const tablet = device(factory, cutAt);
  // The store's own code may take the cut for a fault of the disk; the disk then says the same.
  const done = await (on ? turnOn(tablet, lock) : turnOff(tablet)).catch((error: unknown) => {
    if (error instanceof PowerCut) return { ok: false };
    throw error;
  });
  expect(done.ok).toBe(tablet.writes() <= cutAt);
  return tablet.writes();
}

/** An event at a time, and stopped after the second part. */
function stoppedAfterTwo() {
  const stop = new AbortController();
  const counts: number[] = [];
  const told = (count: number) => {
    counts.push(count);
    if (counts.length === 2) stop.abort();
  };
  return { part: 1, signal: stop.signal, told, counts };
}

async function rawText(factory: IDBFactory): Promise<string> {
  const all: unknown[] = [];
  for (const { name } of await factory.databases()) {
    const database = new Database(factory, name ?? '', () => 'raw');
    const rows = await database.use(['events', 'groups', 'waiting', 'state'], 'readonly', (tx) =>
      Promise.all(
        [...tx.objectStoreNames].map((store) => {
          const request = tx.objectStore(store).getAll();
          return new Promise((resolve) => (request.onsuccess = () => resolve(request.result)));
        }),
      ),
    );
    all.push(rows);
  }
  return JSON.stringify(all, (_, value: unknown) =>
    value instanceof Uint8Array ? new TextDecoder('latin1').decode(value) : value,
  );
}

describe('When a lock is turned', () => {
  test.each(Object.entries(turning))(
    '%s, and the power is cut before any of its writes, nothing is lost and it can be done again',
    async (_, on) => {
      const whole = await filled();
      if (!on) await turn(whole.factory, true);
      const all = await turn(whole.factory, on);
      expect(all).toBeGreaterThan(5);

      for (let cutAt = 0; cutAt < all; cutAt += 1) {
        const { factory, events } = await filled();
        if (!on) await turn(factory, true);
        await turn(factory, on, cutAt);
        expect(await standing(factory)).toEqual({ locked: !on, events, walk });
        // The next start clears up what was half done, and it is turned after all.
        await device(factory).shelf.tidy();
        await forgetOthers(factory, on ? null : place);
        await turn(factory, on);
        expect(await standing(factory)).toEqual({ locked: on, events, walk });
      }
    },
  );

  test('on, and somebody stops it between two parts, nothing changed and it can be done again', async () => {
    for (let part = 1; part <= 2; part += 1) {
      const { factory, events } = await filled();
      const watched = stoppedAfterTwo();
      const done = await turnOn({ ...device(factory), ...watched, part }, lock);
      expect(done.ok).toBe(false);
      expect(watched.counts).toEqual([part, 2 * part]);
      expect(await standing(factory)).toEqual({ locked: false, events, walk });
      await device(factory).shelf.tidy();
      await forgetOthers(factory, null);
      await turn(factory, true);
      expect(await standing(factory)).toEqual({ locked: true, events, walk });
    }
  });

  test('off, and somebody stops it between two parts, it is locked as before with nothing in the clear', async () => {
    const { factory, events } = await filled();
    await turn(factory, true);
    const watched = stoppedAfterTwo();
    const done = await turnOff({ ...device(factory), ...watched });
    expect(done.ok).toBe(false);
    expect(watched.counts).toEqual([1, 2]);
    expect(await rawText(factory)).not.toContain('Bed 4711');
    expect(await standing(factory)).toEqual({ locked: true, events, walk });
    await turn(factory, false);
    expect(await standing(factory)).toEqual({ locked: false, events, walk });
  });

  test('on, nothing readable is left in any database; off, it is all back', async () => {
    const { factory } = await filled();
    const readable = /Bed 4711|350 mL|initials|measured|"TA"/;
    expect(await rawText(factory)).toMatch(readable);
    await turn(factory, true);
    expect(await rawText(factory)).not.toMatch(readable);
    await turn(factory, false);
    await forgetOthers(factory, null);
    expect((await factory.databases()).map(({ name }) => name)).toEqual(['gloveside']);
    expect(await rawText(factory)).toMatch(readable);
  });

  test('off halfway, what stands in the clear already is cleared away at the next start', async () => {
    const { factory } = await filled();
    await turn(factory, true);
    await turn(factory, false, 3);
    expect(await rawText(factory)).toContain('Bed 4711');
    await device(factory).shelf.tidy();
    expect(await rawText(factory)).not.toContain('Bed 4711');
  });
});

describe('When another tab still holds the plain record', () => {
  test('it can write nothing into the clear once the record was sealed', async () => {
    const { factory, events } = await filled();
    const old = device(factory).plain;
    await old.ledger.count();
    await turn(factory, true);
    const late = await new Pen().write(aide, draftFact());
    expect(await old.ledger.append([late])).toEqual({ ok: false, fault: 'storage_closed' });
    expect(await old.states.put('walk', walk)).toEqual({ ok: false, fault: 'storage_closed' });
    expect(await standing(factory)).toMatchObject({ locked: true, events });
  });

  test('what it wrote while the record was copied is not thrown away', async () => {
    const { factory } = await filled();
    const { plain, shelf } = device(factory);
    await plain.ledger.append([await new Pen().write(aide, draftFact())]);
    expect(await shelf.moveOut(lock, 5)).toMatchObject({ ok: false });
    expect(await standing(factory)).toMatchObject({ locked: false, events: { length: 6 } });
  });

  test('a follower puts nothing into the small state', async () => {
    const { factory } = await filled();
    const { plain } = device(factory);
    const follower = new StateStore(plain.database, plainCipher, () => false);
    expect(await follower.put('walk', null)).toEqual({ ok: false, fault: 'not_writer' });
    expect(await follower.drop('walk')).toEqual({ ok: false, fault: 'not_writer' });
    expect(await follower.take('walk')).toEqual({ ok: true, value: walk });
  });
});
