import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { plainCipher, type Cipher } from './cipher.ts';
import { Database } from './database.ts';
import { databaseVersion } from './openDatabase.ts';
import { faultOf } from './storageFault.ts';
import { StateStore } from './stateStore.ts';

let marks = 0;
const databaseOn = (factory: IDBFactory | undefined) =>
  new Database(factory, 'record', () => `mark ${(marks += 1)}`);

const count = (database: Database) =>
  database.use(['events'], 'readonly', async (tx) => {
    const request = tx.objectStore('events').count();
    return new Promise<number>((resolve) => (request.onsuccess = () => resolve(request.result)));
  });

const settled = <T>(request: IDBRequest<T>) =>
  new Promise<T>((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('no error'));
  });

/** A factory whose `open` throws what a browser throws. */
const throwing = (name: string) =>
  ({
    open: () => {
      throw new DOMException('', name);
    },
  }) as unknown as IDBFactory;

describe('When the browser is in the way', () => {
  test('no IndexedDB at all is refused', async () => {
    expect(await count(databaseOn(undefined))).toEqual({ ok: false, fault: 'storage_refused' });
  });

  test.each([
    ['SecurityError', 'storage_refused'],
    ['NotAllowedError', 'storage_refused'],
    ['QuotaExceededError', 'storage_full'],
    ['UnknownError', 'storage_failed'],
  ] as const)('%s on opening is %s', async (name, fault) => {
    expect(await count(databaseOn(throwing(name)))).toEqual({ ok: false, fault });
  });

  test.each([
    ['VersionError', 'storage_newer'],
    ['ConstraintError', 'chain_forked'],
    ['InvalidStateError', 'storage_closed'],
    ['AbortError', 'storage_closed'],
    ['DataError', 'storage_failed'],
  ] as const)('%s is %s', (name, fault) => {
    expect(faultOf(new DOMException('', name))).toBe(fault);
  });

  test('what is no error is a failure', () => {
    expect(faultOf(null)).toBe('storage_failed');
  });

  test('a record of a newer version is left alone', async () => {
    const factory = new IDBFactory();
    (await settled(factory.open('record', databaseVersion + 1))).close();
    expect(await count(databaseOn(factory))).toEqual({ ok: false, fault: 'storage_newer' });
  });
});

describe('When a transaction is aborted for want of room', () => {
  test('the fault is storage_full and nothing is kept', async () => {
    const database = databaseOn(new IDBFactory());
    const put = () =>
      database.use(['state'], 'readwrite', async (tx) => {
        tx.objectStore('state').put(1, 'settings');
        throw new DOMException('', 'QuotaExceededError');
      });
    expect(await put()).toEqual({ ok: false, fault: 'storage_full' });
  });
});

describe('When the connection is closed under us', () => {
  test('it is opened again', async () => {
    const factory = new IDBFactory();
    const database = databaseOn(factory);
    expect(await count(database)).toEqual({ ok: true, value: 0 });
    await database.close();
    expect(await count(database)).toEqual({ ok: true, value: 0 });
  });

  test('a newer tab that changes the stores is not kept waiting', async () => {
    const factory = new IDBFactory();
    const database = databaseOn(factory);
    await count(database);
    (await settled(factory.open('record', databaseVersion + 1))).close();
    expect(await count(database)).toEqual({ ok: false, fault: 'storage_newer' });
  });

  test('an old tab that does not let go: blocked, and open once it does', async () => {
    const factory = new IDBFactory();
    const old = await settled(factory.open('record', 1));
    // The same form of the stores needs no upgrade, so the block is made by a deletion that waits.
    const deletion = factory.deleteDatabase('record');
    await new Promise((resolve) => (deletion.onblocked = resolve));
    old.close();
    await settled(deletion);
    expect(await count(databaseOn(factory))).toEqual({ ok: true, value: 0 });
  });

  test('an upgrade that another tab blocks is told as such', async () => {
    const request = {} as IDBOpenDBRequest;
    const factory = {
      open: () => {
        queueMicrotask(() => {
          request.onblocked?.(new Event('blocked') as IDBVersionChangeEvent);
        });
        return request;
      },
    } as unknown as IDBFactory;
    expect(await count(databaseOn(factory))).toEqual({ ok: false, fault: 'storage_blocked' });
  });
});

describe('When the record vanishes', () => {
  test('it is told at the next use, each time, until the loss is accepted', async () => {
    const factory = new IDBFactory();
    const database = databaseOn(factory);
    await count(database);
    await settled(factory.deleteDatabase('record'));
    const gone = { ok: false, fault: 'storage_vanished' };
    expect(await count(database)).toEqual(gone);
    expect(await count(database)).toEqual(gone);
    database.acceptLoss();
    expect(await count(database)).toEqual({ ok: true, value: 0 });
  });
});

describe('When small values are kept', () => {
  const walk = { step: 'reading', number: 350, note: 'ärmel' };

  test('the unfinished walk comes back on a new page, and is dropped when it is done', async () => {
    const factory = new IDBFactory();
    const store = new StateStore(databaseOn(factory), plainCipher);
    expect(await store.take('walk')).toEqual({ ok: true, value: undefined });
    expect(await store.put('walk', walk)).toEqual({ ok: true, value: undefined });
    const back = new StateStore(databaseOn(factory), plainCipher);
    expect(await back.take('walk')).toEqual({ ok: true, value: walk });
    await back.drop('walk');
    expect(await back.take('walk')).toEqual({ ok: true, value: undefined });
  });

  test('a refusal is a value', async () => {
    const store = new StateStore(databaseOn(undefined), plainCipher);
    expect(await store.put('walk', walk)).toEqual({ ok: false, fault: 'storage_refused' });
    expect(await store.take('walk')).toEqual({ ok: false, fault: 'storage_refused' });
    expect(await store.drop('walk')).toEqual({ ok: false, fault: 'storage_refused' });
  });

  test('what the key does not open is told', async () => {
    const factory = new IDBFactory();
    await new StateStore(databaseOn(factory), plainCipher).put('walk', walk);
    const wrong: Cipher = { ...plainCipher, open: () => Promise.reject(new Error('seal_broken')) };
    expect(await new StateStore(databaseOn(factory), wrong).take('walk')).toEqual({
      ok: false,
      fault: 'seal_broken',
    });
  });
});
