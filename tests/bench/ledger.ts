/**
 * A year of a 60-bed wing in a real Chromium on IndexedDB: what appending, folding and opening cost,
 * and how they grow from 2,500 entries to the full year.
 *
 *   npm run -s bench:ledger                       250,000 entries, about a million events
 *   npm run -s bench:ledger -- --entries 25000    a tenth of it
 *
 * The records are made first. Then the browser is started anew, and both are opened in turns.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { createServer } from 'vite';
import { openBrowser } from '../support/browser.ts';
import type { Growth, Opening } from './ledger/page.ts';

const { values } = parseArgs({ options: { entries: { type: 'string', default: '250000' } } });
const entries = Number(values.entries);
const small = 2_500;
if (!Number.isSafeInteger(entries) || entries < small) {
  console.error(`--entries: expected a whole number of ${small} or more, got ${values.entries}`);
  process.exit(2);
}

const here = import.meta.dirname;
const scratch = await mkdtemp(join(tmpdir(), 'ledger-bench-'));
const profile = join(scratch, 'profile');
const server = await createServer({
  configFile: false,
  root: resolve(here, 'ledger'),
  cacheDir: join(scratch, 'vite'),
  logLevel: 'error',
  server: { port: 0, hmr: false, watch: null, fs: { allow: [resolve(here, '../..')] } },
});

try {
  await server.listen();
  const address = server.httpServer?.address();
  const url = `http://localhost:${typeof address === 'object' ? address?.port : ''}/`;
  const growths: Growth[] = [];
  const heaps: number[] = [];
  for (const size of [small, entries]) {
    console.error(`making ${size} entries`);
    await inBrowser(url, async (evaluate) => {
      growths.push(await evaluate<Growth>(`bench.grow(${size}, tell)`));
      heaps.push(await evaluate<number>('bench.heapMb()'));
    });
  }
  console.error('opening');
  await inBrowser(url, async (evaluate) => {
    const openings = await evaluate<Opening[]>(`bench.openAll([${small}, ${entries}], 31)`);
    print(growths, openings, heaps, await evaluate<number>('bench.heapMb()'));
  });
} finally {
  await server.close();
  await rm(scratch, { recursive: true, force: true, maxRetries: 5 });
}

async function inBrowser(
  url: string,
  work: (evaluate: <T>(script: string) => Promise<T>) => Promise<void>,
): Promise<void> {
  const flags = ['--enable-precise-memory-info', '--js-flags=--expose-gc'];
  const browser = await openBrowser({ profile, flags });
  try {
    const { page } = browser;
    page.on('pageerror', (error) => {
      console.error(error);
    });
    await page.exposeFunction('tell', (text: string) => {
      console.error(`  ${text}`);
    });
    await page.goto(url);
    await page.waitForFunction('"bench" in globalThis');
    await work((script) => page.evaluate(script));
  } finally {
    await browser.close();
  }
}

function print(
  growths: readonly Growth[],
  openings: readonly Opening[],
  heaps: readonly number[],
  heapAfter: number,
): void {
  const [less, more] = growths;
  const [few, many] = openings;
  if (!less || !more || !few || !many) throw new Error('nothing measured');
  const rows: readonly (readonly [string, number, number])[] = [
    [
      'append, ms an event, 500 at a time',
      less.appended / less.measured,
      more.appended / more.measured,
    ],
    ['append, ms for one event alone', few.appendOne, many.appendOne],
    ['fold a day of the wing, ms', few.fold, many.fold],
    ['open the review queue, ms', few.queue, many.queue],
    ['open the sheet of a bed and a day, ms', few.sheet, many.sheet],
    ['open the wing for a shift, ms', few.wing, many.wing],
    ['search a bed over two days, ms', few.search, many.search],
    ['heap after appending, MB', heaps[0] ?? 0, heaps[1] ?? 0],
  ];
  const cell = (text: string | number): string =>
    (typeof text === 'number' ? text.toFixed(2) : text).padStart(10);
  const head = [`${less.entries}`, `${more.entries}`, 'ratio'].map(cell).join('');
  console.log(`${'cost, by entries in the record'.padEnd(40)}${head}`);
  for (const [name, one, other] of rows) {
    console.log(name.padEnd(40) + cell(one) + cell(other) + cell(other / one));
  }
  console.log(`heap after opening both, MB: ${heapAfter.toFixed(2)}`);
  for (const [place, it] of growths.entries()) {
    const seconds = (ms: number): string => `${(ms / 1_000).toFixed(1)} s`;
    console.log(
      `${it.entries} entries, ${it.events} events: made and sealed in ${seconds(it.made)}, ` +
        `${it.events - it.measured} brought in in ${seconds(it.seeded)}, a day at a time, not durable, ` +
        `${it.measured} appended in ${seconds(it.appended)}; found in 31 runs (queue, sheet, wing, search): ` +
        (openings[place]?.found ?? []).join(', '),
    );
  }
}
