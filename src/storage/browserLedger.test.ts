import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { runLedgerContract } from '../../tests/support/ledgerContract.ts';
import { aide, draftFact, Pen } from '../../tests/support/ledgerStory.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { BrowserLedger } from './browserLedger.ts';
import { plainCipher, type Cipher } from './cipher.ts';
import { Database } from './database.ts';

/** Turns every byte over: enough to show that what is stored went through it. */
const mirror: Cipher = {
  seal: async (bytes) => bytes.map((byte) => 255 - byte),
  open: async (bytes) => bytes.map((byte) => 255 - byte),
  tag: async (text) => [...text].reverse().join(''),
};

function open(factory = new IDBFactory(), cipher: Cipher = plainCipher) {
  const database = new Database(factory, 'record', () => 'mark');
  return { database, factory, ledger: new BrowserLedger(database, cipher, () => strictRules) };
}

runLedgerContract('in IndexedDB', async () => open().ledger);
runLedgerContract('in IndexedDB, sealed', async () => open(new IDBFactory(), mirror).ledger);

describe('When the page comes back', () => {
  test('what was acknowledged is there', async () => {
    const { factory, ledger, database } = open();
    const event = await new Pen().write(aide, draftFact());
    await ledger.append([event]);
    await database.close();
    expect(await open(factory).ledger.group(event.entry)).toEqual({ ok: true, value: [event] });
  });

  test('with another key nothing is opened, and the fault says so', async () => {
    const { factory, ledger } = open();
    const event = await new Pen().write(aide, draftFact());
    await ledger.append([event]);
    expect(await open(factory, mirror).ledger.group(event.entry)).toEqual({
      ok: false,
      fault: 'seal_broken',
    });
  });
});

describe('When two connections write without a lock', () => {
  test('both events of a group are kept, and its index knows both', async () => {
    const { factory, ledger } = open();
    const second = open(factory).ledger;
    const pen = new Pen();
    const draft = await pen.write(aide, draftFact());
    const confirmed = await pen.write(
      { initials: 'RN', role: 'nurse' },
      { type: 'entry.confirmed', entry: draft.entry, saw: draft.id },
    );
    const done = await Promise.all([ledger.append([draft]), second.append([confirmed])]);
    expect(done).toEqual([
      { ok: true, value: { added: 1, known: 0 } },
      { ok: true, value: { added: 1, known: 0 } },
    ]);
    expect(await ledger.group(draft.entry)).toEqual({ ok: true, value: [draft, confirmed] });
    expect(await ledger.countOpen('entry')).toEqual({ ok: true, value: 0 });
  });
});
