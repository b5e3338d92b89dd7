/**
 * A year of a 60-bed wing in a real Chromium on IndexedDB: what appending, folding and opening cost,
 * and how they grow from 2,500 entries to the full year.
 *
 *   npm run -s bench:ledger                       250,000 entries, about a million events
 *   npm run -s bench:ledger -- --entries 25000    a tenth of it
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { createServer } from 'vite';
import { openBrowser } from '../support/browser.ts';
import type { Costs } from './ledger/page.ts';

const { values } = parseArgs({ options: { entries: { type: 'string', default: '250000' } } });
const entries = Number(values.entries);
if (!Number.isSafeInteger(entries) || entries < 2_500) {
  console.error(`--entries: expected a whole number of 2500 or more, got ${values.entries}`);
  process.exit(2);
}

const small = 2_500;
const here = import.meta.dirname;
const scratch = await mkdtemp(join(tmpdir(), 'ledger-bench-'));
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
  const port = typeof address === 'object' ? address?.port : undefined;
  const browser = await openBrowser({
    flags: ['--enable-precise-memory-info', '--js-flags=--expose-gc'],
  });
  try {
    const { page } = browser;
    page.on('pageerror', (error) => console.error(error));
    await page.exposeFunction('tell', (text: string) => console.error(`  ${text}`));
    const costs: Costs[] = [];
    for (const size of [small, entries]) {
      console.error(`${size} entries`);
      await page.goto(`http://localhost:${port}/`);
      await page.waitForFunction('"measure" in globalThis');
      costs.push(await page.evaluate<Costs>(`measure(${size}, tell)`));
    }
    print(costs);
  } finally {
    await browser.close();
  }
} finally {
  await server.close();
  await rm(scratch, { recursive: true, force: true });
}

function print([less, more]: readonly Costs[]): void {
  if (less === undefined || more === undefined) throw new Error('nothing measured');
  const rows: readonly (readonly [string, (costs: Costs) => number])[] = [
    ['append, ms an event, 500 at a time', (it) => it.appended / it.events],
    ['append, ms for one event alone', (it) => it.appendOne],
    ['fold a day of the wing, ms', (it) => it.fold],
    ['open the review queue, ms', (it) => it.queue],
    ['open the sheet of a bed and a day, ms', (it) => it.sheet],
    ['open the wing for a shift, ms', (it) => it.wing],
    ['search a bed over two days, ms', (it) => it.search],
    ['heap after appending, MB', (it) => it.heap[0]],
    ['heap after reading, MB', (it) => it.heap[1]],
  ];
  const cell = (value: number): string => value.toFixed(2).padStart(10);
  console.log(
    `${'cost'.padEnd(40)}${String(less.entries).padStart(10)}${String(more.entries).padStart(10)}${'ratio'.padStart(10)}`,
  );
  for (const [name, of] of rows) {
    console.log(`${name.padEnd(40)}${cell(of(less))}${cell(of(more))}${cell(of(more) / of(less))}`);
  }
  for (const it of [less, more]) {
    const seconds = (ms: number): string => (ms / 1_000).toFixed(1);
    console.log(
      `${it.entries} entries, ${it.events} events: made and sealed in ${seconds(it.made)} s, ` +
        `appended in ${seconds(it.appended)} s; found (queue, sheets, wing rows, search) ${it.found.join(', ')}`,
    );
  }
}
