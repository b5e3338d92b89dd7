import type { Bundle, Observation } from 'fhir/r4';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { digest, nurse, storyStart } from '../../tests/support/ledgerStory.ts';
import { RecordStory, storySettings } from '../../tests/support/recordStory.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { dayOn } from '../charting/shifts.ts';
import { MemoryLedger } from '../storage/memoryLedger.ts';
import { runningSha256 } from '../storage/sha256.ts';
import type { Ledger } from '../storage/ledger.ts';
import { LedgerFiles } from './ledgerFiles.ts';
import type { FileOutcome } from './recordFiles.ts';

const filesOf = (ledger: Ledger) =>
  new LedgerFiles({
    ledger,
    rules: () => strictRules,
    plan: () => storySettings.plan,
    temporal: Promise.resolve(Temporal),
    now: () => ({ ms: storyStart, offset: 0 }),
    tools: { digest, newHash: runningSha256 },
  });

const doing = (signal = new AbortController().signal) => ({ onprogress: () => undefined, signal });
const span = dayOn(Temporal, storySettings.plan, '2026-03-02');
const oneBed = { span, bed: 'Bed 4', date: '2026-03-02' };

function done<T>(outcome: FileOutcome<T>): T {
  if (outcome.outcome !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome.value;
}

async function story() {
  const record = new RecordStory();
  const { entry } = await record.draft(10);
  await record.draft(20, { bed: 'Bed 5' });
  await record.book.confirm(nurse, [(await record.book.find(entry))!]);
  return record;
}

describe('When a bed and its day are handed out', () => {
  test('the bundle holds its entries with totals, and no other bed', async () => {
    const { ledger } = await story();
    const { name, content } = done(await filesOf(ledger).fhir(oneBed, doing()));
    expect(name).toBe('gloveside-bed-4-2026-03-02.fhir.json');
    const bundle = JSON.parse(await content.text()) as Bundle;
    const observations = (bundle.entry ?? []).flatMap(({ resource }) =>
      resource?.resourceType === 'Observation' ? [resource as Observation] : [],
    );
    expect(observations.filter(({ effectivePeriod }) => effectivePeriod)).toHaveLength(2);
    expect(observations.filter(({ effectiveDateTime }) => effectiveDateTime)).toHaveLength(1);
  });

  test('the table holds a head and a row for each entry of the wing', async () => {
    const { ledger } = await story();
    const scope = { ...oneBed, bed: null };
    const { name, content } = done(await filesOf(ledger).csv(scope, doing()));
    expect(name).toBe('gloveside-wing-2026-03-02.csv');
    expect((await content.text()).trimEnd().split('\r\n')).toHaveLength(3);
  });
});

describe('When the whole record is kept and brought back', () => {
  test('another device has it whole, and bringing it back twice changes nothing', async () => {
    const { ledger } = await story();
    const count = await ledger.count();
    const { content } = done(await filesOf(ledger).backup(doing()));
    const other = new MemoryLedger(() => strictRules);
    const files = filesOf(other);
    expect(done(await files.restore(content, doing()))).toMatchObject({ added: 3, known: 0 });
    expect(await other.count()).toEqual(count);
    expect(done(await files.restore(content, doing()))).toMatchObject({ added: 0, known: 3 });
  });

  test('a file that was cut is refused with its line, and nothing is changed', async () => {
    const { ledger } = await story();
    const { content } = done(await filesOf(ledger).backup(doing()));
    const lines = (await content.text()).split('\n');
    const cut = new Blob([lines.slice(0, 3).join('\n')]);
    const other = new MemoryLedger(() => strictRules);
    const outcome = await filesOf(other).restore(cut, doing());
    expect(outcome).toMatchObject({
      outcome: 'failed',
      why: expect.stringMatching(/^Line 4: /) as string,
    });
    expect(await other.count()).toEqual({ ok: true, value: 0 });
  });

  test('what was stopped changes nothing', async () => {
    const { ledger } = await story();
    const { content } = done(await filesOf(ledger).backup(doing()));
    const control = new AbortController();
    control.abort();
    const other = new MemoryLedger(() => strictRules);
    expect(await filesOf(other).restore(content, doing(control.signal))).toEqual({
      outcome: 'stopped',
    });
    expect(await other.count()).toEqual({ ok: true, value: 0 });
  });

  test('stopped while it is added, it says that a part came back', async () => {
    const { ledger } = await story();
    const { content } = done(await filesOf(ledger).backup(doing()));
    const control = new AbortController();
    let passes = 0;
    const told = {
      signal: control.signal,
      onprogress: () => {
        passes += 1;
        // The next look at the button comes when the second reading begins.
        if (passes === 1) control.abort();
      },
    };
    const other = new MemoryLedger(() => strictRules);
    const outcome = await filesOf(other).restore(content, told);
    expect(outcome).toMatchObject({
      outcome: 'failed',
      why: expect.stringMatching(/sound/) as string,
    });
  });

  test('a store that gives up is told in words', async () => {
    const { ledger } = await story();
    ledger.count = () => Promise.resolve({ ok: false, fault: 'storage_closed' });
    const outcome = await filesOf(ledger).backup(doing());
    expect(outcome).toMatchObject({
      outcome: 'failed',
      why: expect.stringMatching(/closed/) as string,
    });
  });
});
