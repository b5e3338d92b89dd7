import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Entry } from '../../src/charting/entry.ts';
import { foldEntry } from '../../src/charting/fold.ts';
import { strictRules } from '../../src/charting/reviewRules.ts';
import { wingOf } from '../../src/charting/sheet.ts';
import { bundleOf } from '../../src/exchange/bundle.ts';
import { csvOf } from '../../src/exchange/csv.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { demoFaults } from './demoFaults.ts';
import { demoFiles } from './demoFiles.ts';
import { demoReport } from './demoReport.ts';
import type { DemoRun } from './demoRun.ts';
import { draftFact, newId, Pen, aide } from './ledgerStory.ts';

let folder: string;
let entry: Entry;

const heard = (mL: number) => ({
  ear: 'bundled',
  at: 0,
  alternatives: [{ transcript: String(mL), confidence: 0.9 }],
  fit: 'taken' as const,
  made: millilitres(mL),
});

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'gloveside-faults-'));
  const evidence = {
    heard: [heard(300), heard(350)],
    readBack: 'three hundred fifty: three, five, zero. Correct?',
    answer: 'correct',
    tries: 2,
    findings: [],
    looks: [],
    working: null,
  };
  const draft = await new Pen().write(aide, draftFact({ bed: 'Bed 12', walk: newId(), evidence }));
  const folded = foldEntry([draft], strictRules).entry;
  if (folded === null) throw new Error('nothing folded');
  entry = folded;
});

afterEach(() => rm(folder, { recursive: true }));

const span = { from: 0, to: Number.MAX_SAFE_INTEGER, date: '2026-03-02', name: 'day' };
const bar = '<rect width="1" height="1"/>';

function goodRun(): DemoRun {
  return {
    lines: [
      { who: 'assistant', words: 'Three hundred milliliters. Correct?' },
      { who: 'aide', words: 'no' },
      { who: 'assistant', words: 'Three hundred fifty: three, five, zero. Correct?' },
    ],
    entries: [entry],
    filed: [entry],
    own: 0,
    shift: span,
    wing: wingOf(['Bed 12'], span, [entry]),
    errors: [],
    left: [],
  };
}

const goodFiles = (): Record<keyof typeof demoFiles, string> => ({
  sheet: '%PDF-1.4\n<</Type /Pages>>\n<</Type /Page\n>>',
  chart: `<svg xmlns="http://www.w3.org/2000/svg">${bar.repeat(5)}</svg>`,
  bundle: JSON.stringify(bundleOf([entry], [])),
  table: csvOf([entry]),
});

async function faultsOf(
  run: Partial<DemoRun> = {},
  files: Partial<ReturnType<typeof goodFiles>> = {},
) {
  for (const [file, text] of Object.entries({ ...goodFiles(), ...files })) {
    await writeFile(join(folder, demoFiles[file as keyof typeof demoFiles]), text);
  }
  return demoFaults({ ...goodRun(), ...run }, folder);
}

describe('When a run of the demo is looked at', () => {
  test('a sound one has no fault', async () => {
    expect(await faultsOf()).toEqual([]);
  });

  test.each<[string, Partial<DemoRun>, RegExp]>([
    ['an error of the page', { errors: ['broken'] }, /broken/],
    ['a request that left', { left: ['https://example.org/'] }, /left the device/],
    ['no dispute', { lines: [] }, /never said no/],
    ['an entry in the unit’s record', { own: 1 }, /own record/],
    ['no entry', { entries: [] }, /another amount/],
  ])('%s is told', async (_, run, told) => {
    expect((await faultsOf(run)).join('\n')).toMatch(told);
  });

  test.each<[string, Partial<ReturnType<typeof goodFiles>>, RegExp]>([
    ['a sheet of two pages', { sheet: '%PDF-1.4 /Type /Page /Type /Page ' }, /2 pages/],
    ['a sheet that is no PDF', { sheet: 'hello /Type /Page ' }, /no PDF/],
    ['a chart that is not well-formed', { chart: '<svg><rect></svg>' }, /not well-formed/],
    [
      'a chart without bars',
      { chart: '<svg xmlns="http://www.w3.org/2000/svg"></svg>' },
      /no bars/,
    ],
    ['a table without rows', { table: 'entry,bed\r\n' }, /0 rows for 1/],
  ])('%s is told', async (_, files, told) => {
    expect((await faultsOf({}, files)).join('\n')).toMatch(told);
  });

  test('files that say another amount are told', async () => {
    const other: Entry = {
      ...entry,
      amount: { method: 'measured', mL: millilitres(375), fills: [millilitres(375)] },
    };
    const files = { bundle: JSON.stringify(bundleOf([other], [])), table: csvOf([other]) };
    const faults = await faultsOf({}, files);
    expect(faults.filter((fault) => fault.includes('another amount'))).toHaveLength(2);
  });

  test('it is printed with its entries and the totals of the shift', () => {
    expect(demoReport(goodRun())).toMatch(/Bed 12 .*350 mL/);
    expect(demoReport(goodRun())).toMatch(/all beds +0 +0 +350 +0 +-350/);
  });
});
