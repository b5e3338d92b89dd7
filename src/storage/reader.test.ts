import { beforeEach, describe, expect, test } from 'vitest';
import {
  aide,
  at,
  draftFact,
  newId,
  nurse,
  otherNurse,
  Pen,
  storyStart,
} from '../../tests/support/ledgerStory.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { MemoryLedger } from './memoryLedger.ts';
import {
  alertsIn,
  entriesIn,
  entryOf,
  lastLook,
  openAlerts,
  refusedOf,
  walksIn,
} from './reader.ts';

const day = { from: storyStart, to: storyStart + 24 * 3_600_000 };

describe('When the record is read', () => {
  let ledger: MemoryLedger;
  let pen: Pen;
  beforeEach(() => {
    ledger = new MemoryLedger(() => strictRules);
    pen = new Pen();
  });

  test('a bed’s day has its entries, and the queue what waits', async () => {
    const first = await pen.write(aide, draftFact());
    const second = await pen.write(aide, draftFact({ bed: 'Bed 5' }));
    const confirmed = await pen.write(nurse, {
      type: 'entry.confirmed',
      entry: first.entry,
      saw: first.id,
    });
    await ledger.append([first, second, confirmed]);
    expect(await entriesIn(ledger, { bed: 'Bed 4', span: day }, strictRules)).toMatchObject({
      value: [{ id: first.entry, status: 'final' }],
    });
    expect(await entriesIn(ledger, { waiting: true }, strictRules)).toMatchObject({
      value: [{ id: second.entry, status: 'preliminary' }],
    });
    expect(await entryOf(ledger, first.entry, strictRules)).toMatchObject({
      value: { head: confirmed.id },
    });
    expect(await entryOf(ledger, newId(), strictRules)).toEqual({ ok: true, value: null });
  });

  test('who was refused can be told', async () => {
    const draft = await pen.write(aide, draftFact());
    const { entry, id: saw } = draft;
    const first = await pen.write(nurse, { type: 'entry.confirmed', entry, saw });
    const second = await pen.write(otherNurse, { type: 'entry.confirmed', entry, saw });
    await ledger.append([draft, first, second]);
    const entries = await entriesIn(ledger, {}, strictRules);
    if (!entries.ok) throw new Error(entries.fault);
    expect(refusedOf(entries.value, otherNurse.initials)).toMatchObject([
      { code: 'decided_already', event: { id: second.id } },
    ]);
    expect(refusedOf(entries.value, nurse.initials)).toEqual([]);
  });

  test('alerts stay open until taken, walks have their end, looks are known', async () => {
    const alert = newId();
    const walk = newId();
    await ledger.append([
      await pen.write(aide, {
        type: 'alert.raised',
        alert,
        code: 'pain',
        words: 'Tell the nurse: pain.',
        bed: 'Bed 4',
        walk,
        entry: null,
      }),
      await pen.write(aide, {
        type: 'walk.started',
        walk,
        procedure: 'drainage-bag',
        bed: 'Bed 4',
      }),
      await pen.write(aide, { type: 'walk.ended', walk, outcome: 'abandoned', reason: 'call' }),
    ]);
    expect(await openAlerts(ledger)).toMatchObject({ value: [{ id: alert, taken: null }] });
    await ledger.append([
      await pen.write(aide, { type: 'alert.taken', alert, note: '' }),
      await pen.write(nurse, { type: 'page.viewed', page: 'handover', bed: null }),
    ]);
    expect(await openAlerts(ledger)).toMatchObject({
      value: [{ refused: [{ code: 'role_forbids' }] }],
    });
    await ledger.append([await pen.write(nurse, { type: 'alert.taken', alert, note: 'seen' })]);
    expect(await openAlerts(ledger)).toEqual({ ok: true, value: [] });
    expect(await alertsIn(ledger, day)).toMatchObject({ value: [{ taken: { by: nurse } }] });
    expect(await walksIn(ledger, day)).toMatchObject({
      value: [{ ended: { outcome: 'abandoned' } }],
    });
    expect(await lastLook(ledger, 'handover', nurse.initials, day)).toEqual({
      ok: true,
      value: at(storyStart + 5_000).ms,
    });
    expect(await lastLook(ledger, 'handover', aide.initials, day)).toEqual({
      ok: true,
      value: null,
    });
  });
});
