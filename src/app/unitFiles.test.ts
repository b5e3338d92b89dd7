import type { Bundle } from 'fhir/r4';
import { Temporal } from 'temporal-polyfill';
import { beforeEach, describe, expect, it } from 'vitest';
import { faultsOf } from '../../tests/support/fhir.ts';
import {
  aide,
  at,
  digest,
  draftFact,
  nurse,
  Pen,
  storyStart,
} from '../../tests/support/ledgerStory.ts';
import { strictRules } from '../charting/reviewRules.ts';
import { dayOn } from '../charting/shifts.ts';
import type { BackupTools } from '../storage/backup.ts';
import type { Ledger } from '../storage/ledger.ts';
import { MemoryLedger } from '../storage/memoryLedger.ts';
import { runningSha256 } from '../storage/sha256.ts';
import type { Doing, FileOutcome, HandedFile, RecordFiles } from './recordFiles.ts';
import { unitFiles } from './unitFiles.ts';

const plan = {
  zone: 'UTC',
  dayFrom: '07:00',
  shifts: [
    { name: 'day', from: '07:00' },
    { name: 'night', from: '19:00' },
  ],
};
const tools: BackupTools = { digest, newHash: runningSha256 };
const date = '2026-03-02';
const day = dayOn(Temporal, plan, date);
const hour = 3_600_000;

const filesOf = (ledger: Ledger): RecordFiles =>
  unitFiles({
    ledger,
    rules: () => strictRules,
    plan: () => plan,
    temporal: Temporal,
    now: () => at(storyStart + 30 * hour),
    tools,
    breathe: () => Promise.resolve(),
    part: 50,
  });

/** Work that is told of every step, and stopped at one if asked. */
class Watched implements Doing {
  readonly steps: [number, number | null][] = [];
  readonly #control = new AbortController();
  readonly signal = this.#control.signal;
  readonly #stopAt: number;

  constructor(stopAt = Infinity) {
    this.#stopAt = stopAt;
  }

  readonly onprogress = (done: number, all: number | null) => {
    this.steps.push([done, all]);
    if (this.steps.length >= this.#stopAt) this.#control.abort();
  };
}

function valueOf<T>(outcome: FileOutcome<T>): T {
  if (outcome.outcome !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome.value;
}

const textOf = async (outcome: FileOutcome<HandedFile>) => valueOf(outcome).content.text();

async function countOf(ledger: Ledger): Promise<number> {
  const count = await ledger.count();
  if (!count.ok) throw new Error(count.fault);
  return count.value;
}

let ledger: MemoryLedger;
let files: RecordFiles;

/** Drafts of two beds an hour apart, every other one confirmed; two days and more. */
async function fill(entries: number): Promise<void> {
  const pen = new Pen(storyStart);
  for (let n = 0; n < entries; n += 1) {
    const fact = draftFact({
      bed: n % 2 === 0 ? 'Bed 4' : '=Bed 5',
      readAt: at(storyStart + n * hour),
    });
    pen.ms = storyStart + n * hour + 60_000;
    const draft = await pen.write(aide, fact);
    const { entry } = fact;
    const events =
      n % 2 === 0
        ? [draft, await pen.write(nurse, { type: 'entry.confirmed', entry, saw: draft.id })]
        : [draft];
    await ledger.append(events);
  }
}

beforeEach(() => {
  ledger = new MemoryLedger(() => strictRules);
  files = filesOf(ledger);
});

describe('When the record of a bed and a day is handed out', () => {
  beforeEach(() => fill(30));

  it('FHIR: an R4 transaction with the entries, the totals and nothing of another bed', async () => {
    const made = await files.fhir({ span: day, bed: 'Bed 4', date }, new Watched(), 'create');
    expect(valueOf(made).name).toBe('gloveside-2026-03-02-bed-4.fhir.json');
    const bundle = JSON.parse(await textOf(made)) as Bundle;
    expect(faultsOf(bundle)).toEqual([]);
    const observations = bundle.entry?.flatMap(({ resource }) =>
      resource?.resourceType === 'Observation' ? [resource] : [],
    );
    expect(observations).toHaveLength(12 + 2);
    expect(observations?.at(-2)).toMatchObject({ valueQuantity: { value: 12 * 350 } });
    expect(JSON.stringify(bundle)).not.toContain('Bed 5');
  });

  it('FHIR: a shift has no totals of its own', async () => {
    const span = { from: day.from, to: day.from + 12 * hour };
    const bundle = JSON.parse(
      await textOf(await files.fhir({ span, bed: null, date }, new Watched(), 'create')),
    ) as Bundle;
    expect(JSON.stringify(bundle)).not.toContain('derivedFrom');
    expect(JSON.stringify(bundle)).toContain('Bed 5');
  });

  it('FHIR with changes: a conditional update of each entry, valid, under a name of its own', async () => {
    const made = await files.fhir({ span: day, bed: 'Bed 4', date }, new Watched(), 'update');
    expect(valueOf(made).name).toBe('gloveside-2026-03-02-bed-4-update.fhir.json');
    const bundle = JSON.parse(await textOf(made)) as Bundle;
    expect(faultsOf(bundle)).toEqual([]);
    const requests = (bundle.entry ?? []).map(({ request }) => request);
    const updates = requests.filter((it) => it?.url.startsWith('Observation'));
    expect(updates).toHaveLength(12 + 2);
    for (const it of updates) expect(it).toMatchObject({ method: 'PUT' });
  });

  it('CSV: a row for each entry, none of them a formula', async () => {
    const made = await files.csv({ span: day, bed: null, date }, new Watched());
    expect(valueOf(made).name).toBe('gloveside-2026-03-02-wing.csv');
    const rows = (await textOf(made)).split('\r\n').slice(0, -1);
    expect(rows).toHaveLength(1 + 24);
    expect(rows.filter((row) => row.includes(",'=Bed 5,"))).toHaveLength(12);
  });

  it('tells how far it is, and ends with all of it', async () => {
    const watched = new Watched();
    await files.csv({ span: day, bed: 'Bed 4', date }, watched);
    expect(watched.steps.at(0)).toEqual([0, null]);
    expect(watched.steps.at(-1)).toEqual([24, 24]);
  });

  it.each(['fhir', 'csv'] as const)('%s: can be stopped', async (kind) => {
    const made = await files[kind]({ span: day, bed: null, date }, new Watched(2), 'create');
    expect(made).toEqual({ outcome: 'stopped' });
  });
});

describe('When the whole record is backed up and brought back', () => {
  beforeEach(() => fill(90));

  it('an empty ledger has it all again; twice changes nothing', async () => {
    const watched = new Watched();
    const made = valueOf(await files.backup(watched));
    expect(made.name).toBe('gloveside-backup-2026-03-03T1300.jsonl');
    expect(watched.steps).toEqual([
      [49, 135],
      [99, 135],
    ]);
    const other = new MemoryLedger(() => strictRules);
    const into = filesOf(other);
    expect(await into.restore(made.content, new Watched())).toEqual({
      outcome: 'done',
      value: { added: 135, known: 0 },
    });
    expect(await into.restore(made.content, new Watched())).toEqual({
      outcome: 'done',
      value: { added: 0, known: 135 },
    });
    expect((await textOf(await into.backup(new Watched()))).length).toBe(made.content.size);
  });

  it('a broken line is refused with its number, and nothing is restored', async () => {
    const lines = (await textOf(await files.backup(new Watched()))).split('\n');
    lines[70] = lines[70]!.replace('350', '351');
    const other = new MemoryLedger(() => strictRules);
    const outcome = await filesOf(other).restore(new Blob([lines.join('\n')]), new Watched());
    expect(outcome).toMatchObject({ outcome: 'failed' });
    expect(JSON.stringify(outcome)).toContain('Line 71');
    expect(await countOf(other)).toBe(0);
  });

  it('a file that is no backup is refused at its first line', async () => {
    const outcome = await files.restore(new Blob(['bed,amount\n4,350\n']), new Watched());
    expect(outcome).toEqual({
      outcome: 'failed',
      why: 'Line 1: This line is not a line of a backup. Nothing was restored.',
    });
  });

  it('stopped while it is checked: nothing was changed', async () => {
    const { content } = valueOf(await files.backup(new Watched()));
    const other = new MemoryLedger(() => strictRules);
    expect(await filesOf(other).restore(content, new Watched(2))).toEqual({ outcome: 'stopped' });
    expect(await countOf(other)).toBe(0);
  });

  it('stopped while it is added: what is there is told, and the same file goes on', async () => {
    const { content } = valueOf(await files.backup(new Watched()));
    const other = new MemoryLedger(() => strictRules);
    const into = filesOf(other);
    // Three steps check the 137 lines; the fifth is in the midst of adding them.
    const outcome = await into.restore(content, new Watched(5));
    const there = await countOf(other);
    expect(there).toBeGreaterThan(0);
    expect(there).toBeLessThan(135);
    expect(outcome).toMatchObject({ outcome: 'failed' });
    expect(JSON.stringify(outcome)).toContain(`${there} events were added`);
    expect(await into.restore(content, new Watched())).toEqual({
      outcome: 'done',
      value: { added: 135 - there, known: there },
    });
  });
});

describe('When the store gives up', () => {
  it.each(['fhir', 'csv'] as const)('%s: the fault is said in words', async (kind) => {
    ledger.groups = () => Promise.resolve({ ok: false, fault: 'storage_vanished' });
    expect(await files[kind]({ span: day, bed: null, date }, new Watched(), 'create')).toEqual({
      outcome: 'failed',
      why: 'The record of this device is gone. Nothing was changed. Try again; if it stays so, reload the page.',
    });
  });

  it('backup: the fault is said in words', async () => {
    ledger.read = () => Promise.resolve({ ok: false, fault: 'storage_closed' });
    expect(await files.backup(new Watched())).toMatchObject({ outcome: 'failed' });
  });
});
