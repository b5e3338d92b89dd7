import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { promisifyRequest } from 'idb-keyval';
import { describe, expect, test } from 'vitest';
import { digest, newId } from '../../../tests/support/ledgerStory.ts';
import { strictRules } from '../../charting/reviewRules.ts';
import { later } from '../../../tests/support/walkBench.ts';
import { eventsOf } from '../backup.ts';
import { BrowserLedger } from '../browserLedger.ts';
import { plainCipher } from '../cipher.ts';
import { Database } from '../database.ts';
import { Recorder } from '../recorder.ts';
import { StateStore } from '../stateStore.ts';
import { openDatabase, storeNames } from '../openDatabase.ts';
import { Spare } from './Spare.ts';

const name = 'record';
let marks = 0;

/** A device whose two sets of files can be lost, and whose page can end at any moment. */
class Device {
  first = new IDBFactory();
  second: IDBFactory | null = new IDBFactory();
  readonly #id = newId();

  /** A page on it. */
  open(id = this.#id) {
    const spare = new Spare({
      factory: () => Promise.resolve(this.second),
      name,
      alone: (_, work) => work(),
    });
    const database = new Database(this.first, name, () => `mark ${(marks += 1)}`, 'strict', spare);
    const ledger = new BrowserLedger(database, plainCipher, () => strictRules);
    const states = new StateStore(database, plainCipher);
    const recorder = new Recorder({
      ledger,
      device: id,
      digest,
      now: () => later(1),
      random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)),
      after: () => () => undefined,
    });
    const write = async (bed: string) => {
      const recorded = await recorder.record({ initials: 'MK', role: 'aide' }, [
        { type: 'walk.started', walk: recorder.newId(), procedure: 'urinal', bed },
      ]);
      expect(recorded.kept).toBe('stored');
    };
    const beds = async () => {
      const found: (string | null)[] = [];
      for await (const event of eventsOf(ledger))
        if (event.type === 'walk.started') found.push(event.bed);
      return found.sort();
    };
    return { database, states, write, beds };
  }

  /** What lies in both sets of files, but for what only the first needs. */
  async rows(): Promise<unknown[]> {
    const all = [];
    for (const factory of [this.first, this.second]) {
      if (factory === null) continue;
      const db = await openDatabase(factory, name, () => '');
      const rows: Record<string, unknown> = {};
      for (const store of storeNames) {
        const rowsOf = db.transaction(store).objectStore(store);
        const keys = await promisifyRequest(rowsOf.getAllKeys());
        const values = await promisifyRequest<unknown[]>(rowsOf.getAll());
        for (const [index, key] of keys.entries())
          rows[`${store} ${JSON.stringify(key)}`] =
            key === 'turn' ? (values[index] as { turn: number }).turn : values[index];
      }
      db.close();
      all.push(rows);
    }
    return all;
  }
}

const inStep = async (device: Device) =>
  expect
    .poll(async () => {
      const [first, second] = await device.rows();
      return JSON.stringify(first) === JSON.stringify(second);
    })
    .toBe(true);

describe('When a browser throws its files of the record away', () => {
  test('all that was written is brought back: events, settings, and whose record it is', async () => {
    const device = new Device();
    const before = device.open();
    await before.write('Bed 1');
    await inStep(device);
    await before.write('Bed 2');
    await before.states.put('settings', { unit: 'Harbour' });
    await before.states.put('walk', { step: 3 });
    await before.states.drop('walk');
    const [kept] = await device.rows();
    await before.database.close();

    device.first = new IDBFactory();
    const after = device.open();
    expect(await after.beds()).toEqual(['Bed 1', 'Bed 2']);
    expect(await after.states.take('settings')).toEqual({ ok: true, value: { unit: 'Harbour' } });
    expect(await after.states.take('walk')).toEqual({ ok: true, value: undefined });
    expect((await device.rows())[0]).toEqual(kept);
    await after.write('Bed 3');
    await inStep(device);
  });

  test('a page that has it open finds it again, and it is the same record', async () => {
    const device = new Device();
    const page = device.open();
    await page.write('Bed 1');
    await inStep(device);
    await promisifyRequest(device.first.deleteDatabase(name) as IDBRequest<unknown>);
    expect(await page.beds()).toEqual(['Bed 1']);
    await page.write('Bed 2');
    expect(await page.beds()).toEqual(['Bed 1', 'Bed 2']);
  });

  test('a copy back that a page died in is begun again', async () => {
    const device = new Device();
    const before = device.open();
    for (const bed of ['Bed 1', 'Bed 2']) await before.write(bed);
    await inStep(device);
    await before.database.close();
    device.first = new IDBFactory();
    const half = await openDatabase(device.first, name, () => 'half');
    const tx = half.transaction('state', 'readwrite');
    tx.objectStore('state').put(true, 'half');
    await new Promise((done) => (tx.oncomplete = done));
    half.close();
    expect(await device.open().beds()).toEqual(['Bed 1', 'Bed 2']);
  });
});

test('What was written while both were out of reach stays, beside what is brought back', async () => {
  const device = new Device();
  const before = device.open();
  await before.write('Bed 1');
  await inStep(device);
  await before.database.close();
  const { second } = device;
  device.first = new IDBFactory();
  device.second = null;
  const alone = device.open(newId());
  await alone.write('Bed 2');
  await alone.database.close();

  device.second = second;
  const after = device.open();
  expect(await after.beds()).toEqual(['Bed 1', 'Bed 2']);
  await inStep(device);
});

test('A row that the record dropped while the spare was away goes from the spare too', async () => {
  const device = new Device();
  const before = device.open();
  await before.states.put('walk', { step: 3 });
  await before.states.put('look', { at: 1 });
  await inStep(device);
  await before.database.close();
  const { second } = device;
  device.second = null;
  const alone = device.open();
  await alone.states.drop('walk');
  await alone.states.put('look', { at: 2 });
  await alone.database.close();

  device.second = second;
  await device.open().beds();
  await inStep(device);
  expect(Object.keys((await device.rows())[1] as object)).not.toContain('state "walk"');
});

describe('When the spare is lost, or not there yet', () => {
  test('it is made anew behind the work, and what is written meanwhile is in it', async () => {
    const device = new Device();
    const { second } = device;
    device.second = null;
    const before = device.open();
    for (let bed = 1; bed <= 5; bed++) await before.write(`Bed ${bed}`);
    await before.database.close();

    device.second = second;
    const after = device.open();
    const writing = ['Bed 6', 'Bed 7', 'Bed 8'].map((bed) => after.write(bed));
    await Promise.all(writing);
    await inStep(device);
    await after.write('Bed 9');
    await after.database.close();
    device.first = new IDBFactory();
    expect(await device.open().beds()).toHaveLength(9);
  });

  test('a spare that missed the last writes gets just those', async () => {
    const device = new Device();
    const before = device.open();
    await before.write('Bed 1');
    await inStep(device);
    await before.database.close();
    const { second } = device;
    device.second = null;
    const alone = device.open();
    await alone.write('Bed 2');
    await alone.states.put('walk', { step: 3 });
    await alone.states.put('walk', { step: 4 });
    await alone.states.put('look', { at: 1 });
    await alone.states.drop('look');
    await alone.database.close();
    // Nobody looks at a row that was not named: this one would go if the whole were copied.
    const spare = await openDatabase(second ?? device.first, name, () => '');
    const odd = spare.transaction('state', 'readwrite');
    odd.objectStore('state').put('odd', 'odd');
    await new Promise((done) => (odd.oncomplete = done));
    spare.close();

    device.second = second;
    const after = device.open();
    await after.beds();
    const [first, copy] = await device.rows();
    expect(copy).toEqual({ ...(first as object), 'state "odd"': 'odd' });
  });

  test('a spare that refuses is no fault of the record', async () => {
    const device = new Device();
    device.second = {
      open: () => {
        throw new DOMException('', 'UnknownError');
      },
    } as unknown as IDBFactory;
    const page = device.open();
    await page.write('Bed 1');
    expect(await page.beds()).toEqual(['Bed 1']);
  });
});

test('A record that was never copied is not taken for a lost one', async () => {
  const device = new Device();
  const { second } = device;
  device.second = null;
  const old = new Database(device.first, name, () => 'old');
  await new StateStore(old, plainCipher).put('settings', { unit: 'Old' });
  await old.close();
  device.second = second;
  const page = device.open();
  expect(await page.states.take('settings')).toEqual({ ok: true, value: { unit: 'Old' } });
  await page.write('Bed 1');
  await inStep(device);
});
