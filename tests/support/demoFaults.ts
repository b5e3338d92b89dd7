import type { Bundle, Observation } from 'fhir/r4';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { JSDOM } from 'jsdom';
import type { Entry } from '../../src/charting/entry.ts';
import { charting } from '../../src/words/en-US/charting.ts';
import { firstWalk } from '../../demo/firstWalk.ts';
import { demoFiles } from './demoFiles.ts';
import type { DemoRun } from './demoRun.ts';
import { faultsOf } from './fhir.ts';

/** Everything that is wrong with a run of the demo and with the files that it wrote. */
export async function demoFaults(run: DemoRun, folder: string): Promise<readonly string[]> {
  const read = (file: keyof typeof demoFiles) => readFile(join(folder, demoFiles[file]));
  const [pdf, svg, bundle, table] = await Promise.all([
    read('sheet'),
    read('chart'),
    read('bundle'),
    read('table'),
  ]);
  return [
    ...run.errors.map((error) => `the page said: ${error}`),
    ...run.left.map((url) => `left the device: ${url}`),
    ...walkFaults(run),
    ...bundleFaults(JSON.parse(bundle.toString()) as Bundle, run.filed),
    ...tableFaults(table.toString(), run.filed),
    ...pdfFaults(pdf.toString('latin1')),
    ...svgFaults(svg.toString()),
  ];
}

/** The one entry that the aide made, heard by the ear, disputed once and agreed to. */
function walkFaults({ lines, entries, own }: DemoRun): string[] {
  const said = (who: string, words: RegExp) =>
    lines.some((line) => line.who === who && words.test(line.words));
  const [made] = entries.slice(-1);
  const heard = made?.draft.evidence?.heard ?? [];
  const { amount } = made ?? {};
  const faults = {
    'the aide never said no': !said('aide', /^no$/),
    'the number was not read back digit by digit': !said('assistant', /three, five, zero/i),
    'the last entry has another amount': !(
      amount?.method === 'measured' && amount.mL === firstWalk.level
    ),
    'the last entry was not made by the walk of the demo': typeof made?.draft.walk !== 'string',
    'the reading was not heard by the ear': heard.length === 0,
    'a reading came in another way than by sound': heard.some(({ ear }) => ear !== 'bundled'),
    'the first number was not disputed': (made?.draft.evidence?.tries ?? 0) < 2,
    'the unit’s own record has entries': own > 0,
  };
  return Object.entries(faults).flatMap(([fault, is]) => (is ? [fault] : []));
}

function bundleFaults(bundle: Bundle, filed: readonly Entry[]): string[] {
  const observations = (bundle.entry ?? []).flatMap(({ resource, fullUrl }) =>
    resource?.resourceType === 'Observation'
      ? [{ url: fullUrl, resource: resource as Observation }]
      : [],
  );
  const differ = filed.filter((entry) => {
    const found = observations.find(({ url }) => url === `urn:uuid:${entry.id}`)?.resource;
    return found === undefined || mLOf(found) !== measuredOf(entry);
  });
  return [
    ...faultsOf(bundle).map((fault) => `bundle: ${fault}`),
    ...differ.map(({ id }) => `bundle: entry ${id} is missing or has another amount`),
  ];
}

const mLOf = ({ valueQuantity }: Observation): number | null =>
  valueQuantity?.code === 'mL' ? (valueQuantity.value ?? null) : null;
const measuredOf = ({ amount }: Entry): number | null =>
  amount === null || amount.method === 'unmeasured' ? null : amount.mL;

function tableFaults(table: string, filed: readonly Entry[]): string[] {
  const [head = [], ...rows] = table
    .split('\r\n')
    .filter((row) => row !== '')
    .map(cellsOf);
  const { columns } = charting;
  const cell = (row: readonly string[], column: string) => row[head.indexOf(column)];
  const missing = filed.filter(
    (entry) =>
      !rows.some(
        (row) =>
          cell(row, columns.entry) === entry.id &&
          cell(row, columns.amount) === String(measuredOf(entry) ?? ''),
      ),
  );
  return [
    ...(rows.length === filed.length
      ? []
      : [`table: ${rows.length} rows for ${filed.length} entries`]),
    ...missing.map(({ id }) => `table: entry ${id} is missing or has another amount`),
  ];
}

/** The cells of a row without line ends in them; quotes as RFC 4180 has them. */
function cellsOf(row: string): string[] {
  return Array.from(row.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g), ([, quoted, plain]) =>
    quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'),
  );
}

function pdfFaults(pdf: string): string[] {
  const pages = pdf.match(/\/Type\s*\/Page\b/g)?.length ?? 0;
  return [
    ...(pdf.startsWith('%PDF-') ? [] : ['sheet: no PDF']),
    ...(pages === 1 ? [] : [`sheet: ${pages} pages and not one`]),
  ];
}

function svgFaults(svg: string): string[] {
  const { DOMParser } = new JSDOM('').window;
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml');
  const root = parsed.documentElement;
  if (root.nodeName !== 'svg') return [`chart: not well-formed: ${root.textContent.slice(0, 80)}`];
  return root.querySelectorAll('rect').length > 3 ? [] : ['chart: no bars'];
}
