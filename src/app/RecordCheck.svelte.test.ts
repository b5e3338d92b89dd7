import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, test } from 'vitest';
import { aide, digest, draftFact, nurse, Pen } from '../../tests/support/ledgerStory.ts';
import type { LedgerEvent } from '../charting/events.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { BrowserLedger } from '../storage/browserLedger.ts';
import { plainCipher, sealJson } from '../storage/cipher.ts';
import { Database } from '../storage/database.ts';
import { RecordCheck } from './RecordCheck.svelte.ts';

let database: Database;
let ledger: BrowserLedger;
let pens: Pen[];
let events: LedgerEvent[];
let breaths: number;

/** A record of two devices with 25 events each, in a store that a test can tamper with. */
beforeEach(async () => {
  database = new Database(new IDBFactory(), 'record', () => 'mark');
  ledger = new BrowserLedger(database, plainCipher, () => strictRules);
  pens = [new Pen(), new Pen()].sort((one, other) => (one.device < other.device ? -1 : 1));
  events = [];
  breaths = 0;
  await writeOn(25);
});

async function writeOn(each: number): Promise<void> {
  const fresh: LedgerEvent[] = [];
  for (let n = 0; n < each * 2; n += 1) {
    fresh.push(await pens[n % 2]!.write(n % 2 === 0 ? aide : nurse, draftFact()));
  }
  await ledger.append(fresh);
  events.push(...fresh);
}

const deviceOf = (place: number) => pens[place]?.device ?? '';
const eventAt = (device: string, seq: number) =>
  events.find((event) => event.device === device && event.seq === seq)!;

function checkOf(part = 10, breathe: () => Promise<void> = () => Promise.resolve()) {
  const counted = async () => {
    breaths += 1;
    await breathe();
  };
  return new RecordCheck({ ledger, digest, breathe: counted, device: deviceOf(0), part });
}

type Row = { group: string; id: string; device: string; seq: number; body: Uint8Array };

/** What a person with the developer tools could do to the stored record. */
async function tamper(change: (rows: Map<string, Row>, store: IDBObjectStore) => void) {
  const done = await database.use(['events'], 'readwrite', (tx) => {
    const store = tx.objectStore('events');
    const all = store.getAll();
    all.onsuccess = () => {
      const rows = (all.result as Row[]).map((row) => [`${row.device} ${row.seq}`, row] as const);
      change(new Map(rows), store);
    };
    return Promise.resolve();
  });
  expect(done.ok).toBe(true);
}

const found = (check: RecordCheck) =>
  check.faults.map(({ code, seq, here, event }) => [code, seq, here, event?.type ?? null]);

describe('When the record is as it was written', () => {
  test('it is intact, all events of all devices looked at, a breath between two parts', async () => {
    const check = checkOf();
    await check.run();
    expect(check).toMatchObject({ stage: 'done', done: 50, all: 50, devices: 2, faults: [] });
    expect(breaths).toBe(4);
  });

  test('an empty record is intact', async () => {
    ledger = new BrowserLedger(
      new Database(new IDBFactory(), 'other', () => 'mark'),
      plainCipher,
      () => strictRules,
    );
    const check = checkOf();
    await check.run();
    expect(check).toMatchObject({ stage: 'done', done: 0, all: 0, faults: [] });
  });

  test('later only what came since is looked at, until the whole is asked for again', async () => {
    const check = checkOf();
    await check.run();
    await writeOn(3);
    const read = ledger.read.bind(ledger);
    let reads = 0;
    ledger.read = (...place) => {
      reads += 1;
      return read(...place);
    };
    await check.run();
    expect(check).toMatchObject({ stage: 'done', done: 56, all: 56, faults: [] });
    // One part to see each chain, one for its new end, and none of what was looked at.
    expect(reads).toBeLessThanOrEqual(4);
    await check.runAnew();
    expect(check).toMatchObject({ stage: 'done', done: 56, all: 56, faults: [] });
  });
});

describe('When the check is stopped', () => {
  test('it says so, and goes on from there with no event twice', async () => {
    let stopAt = 2;
    const check: RecordCheck = checkOf(10, async () => {
      if (breaths === stopAt) check.stop();
    });
    await check.run();
    expect(check).toMatchObject({ stage: 'stopped', done: 20 });
    stopAt = Infinity;
    await check.run();
    expect(check).toMatchObject({ stage: 'done', done: 50, faults: [] });
  });

  test('begun anew while it is on its way, it counts each event once', async () => {
    const check = checkOf();
    const first = check.run();
    await Promise.all([first, check.runAnew()]);
    expect(check).toMatchObject({ stage: 'done', done: 50, faults: [] });
  });

  test('a store that gives up is told apart from a record that is not intact', async () => {
    const check = checkOf();
    const read = ledger.read.bind(ledger);
    ledger.read = () => Promise.resolve({ ok: false, fault: 'storage_closed' });
    await check.run();
    expect(check).toMatchObject({ stage: 'failed', faults: [] });
    ledger.read = read;
    await check.run();
    expect(check).toMatchObject({ stage: 'done', done: 50 });
  });
});

describe('When somebody changed the stored record', () => {
  test('an edited event is named with its device, and its neighbours are not', async () => {
    const [device, other] = [deviceOf(0), deviceOf(1)];
    const body = await sealJson(plainCipher, { ...eventAt(device, 7), note: 'another note' });
    const theirs = await sealJson(plainCipher, { ...eventAt(other, 3), bed: 'Bed 9' });
    await tamper((rows, store) => {
      store.put({ ...rows.get(`${device} 7`)!, body });
      store.put({ ...rows.get(`${other} 3`)!, body: theirs });
    });
    const check = checkOf();
    await check.run();
    expect(found(check)).toEqual([
      ['event_edited', 7, true, 'entry.drafted'],
      ['event_edited', 3, false, 'entry.drafted'],
    ]);
    expect(check).toMatchObject({ stage: 'done', done: 50 });
  });

  test('a removed event is named by its place', async () => {
    const device = deviceOf(1);
    await tamper((rows, store) => {
      const row = rows.get(`${device} 12`)!;
      store.delete([row.group, row.id]);
    });
    const check = checkOf();
    await check.run();
    expect(found(check)).toEqual([['event_missing', 12, false, null]]);
  });

  test('two events that changed places are named', async () => {
    const device = deviceOf(0);
    await tamper((rows, store) => {
      const [one, other] = [rows.get(`${device} 4`)!, rows.get(`${device} 5`)!];
      store.put({ ...one, body: other.body });
      store.put({ ...other, body: one.body });
    });
    const check = checkOf();
    await check.run();
    expect(found(check)).toEqual([
      ['event_missing', 4, true, null],
      ['event_reordered', 4, true, 'entry.drafted'],
    ]);
  });

  test.each(['no JSON at all', 'null', '{"device":7}'])(
    'what can not be opened is named by its place, the rest is looked at, also later: %s',
    async (text) => {
      const device = deviceOf(1);
      const body = new TextEncoder().encode(text);
      await tamper((rows, store) => store.put({ ...rows.get(`${device} 5`)!, body }));
      const check = checkOf();
      await check.run();
      expect(found(check)).toEqual([['event_edited', 5, false, null]]);
      expect(check).toMatchObject({ stage: 'done', done: 50 });
      await writeOn(2);
      await check.run();
      expect(found(check)).toEqual([['event_edited', 5, false, null]]);
      expect(check).toMatchObject({ stage: 'done', done: 54 });
    },
  );

  test('of very many faults the first are named and the rest counted', async () => {
    await tamper((rows, store) => {
      for (const row of rows.values()) if (row.seq % 2 === 0) store.delete([row.group, row.id]);
    });
    const check = checkOf();
    await check.run();
    expect(check.faults).toHaveLength(20);
    expect(check.more).toBe(4);
  });
});
