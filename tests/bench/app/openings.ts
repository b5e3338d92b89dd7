import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openBrowser, type OpenBrowser } from '../../support/browser.ts';
import { filesOfBuild, keptPaths } from '../../support/keptApp.ts';
import type { CountedServer } from './countedServer.ts';
import { firstPaint, noteInPage, notedIn, openAll, slowDown } from './slowPage.ts';
import { median, type Row } from './table.ts';

const RUNS = 5;

interface Opening {
  readonly painted: number;
  /** The beds can be chosen. */
  readonly beds: number;
  readonly ready: number;
  /** Bytes on the wire till the ear was ready and the beds stood there. */
  readonly bytes: number;
}

async function open(browser: OpenBrowser, server: CountedServer, slower: number): Promise<Opening> {
  const { page } = browser;
  const before = server.sent();
  await slowDown(page, slower);
  await noteInPage(page);
  await openAll(page, server.url);
  const painted = await firstPaint(page);
  const { ready, beds } = await notedIn(page);
  if (ready === null || beds === null) throw new Error('the ear does not become ready');
  return { painted, beds, ready, bytes: server.sent() - before };
}

async function untilAllKept({ page }: OpenBrowser, files: number): Promise<void> {
  for (let last = -1; last < files; last = (await keptPaths(page)).length) {
    await page.waitForTimeout(250);
  }
}

/** First paint and readiness with nothing kept, and again in a new browser with all kept. */
export async function openings(
  server: CountedServer,
  folder: string,
  slower: number,
): Promise<Row[]> {
  const cold: Opening[] = [];
  const warm: Opening[] = [];
  const all: number[] = [];
  const files = (await filesOfBuild(folder)).length;
  for (let run = 0; run < RUNS; run += 1) {
    const profile = await mkdtemp(join(tmpdir(), 'gloveside-bench-'));
    try {
      const before = server.sent();
      const first = await openBrowser({ profile });
      cold.push(await open(first, server, slower));
      await untilAllKept(first, files);
      await first.close();
      all.push(server.sent() - before);
      const second = await openBrowser({ profile });
      warm.push(await open(second, server, slower));
      await second.close();
    } finally {
      await rm(profile, { recursive: true, force: true, maxRetries: 5 });
    }
  }
  const of = (openings: readonly Opening[], part: keyof Opening) =>
    median(openings.map((opening) => opening[part]));
  const times = (name: string, part: 'painted' | 'beds' | 'ready'): Row[] => [
    { what: `${name}, nothing kept`, value: of(cold, part), unit: 'ms' },
    {
      what: `${name}, all kept`,
      value: of(warm, part),
      unit: 'ms',
      against:
        part === 'ready'
          ? { value: 1_500, name: 'budget' }
          : { value: of(cold, part), name: 'nothing kept' },
    },
  ];
  return [
    ...times('first paint', 'painted'),
    ...times('beds can be chosen', 'beds'),
    ...times('ready to listen', 'ready'),
    { what: 'sent till ready, nothing kept', value: of(cold, 'bytes') / 1e6, unit: 'MB' },
    { what: 'sent till all is kept, voice too', value: median(all) / 1e6, unit: 'MB' },
    { what: 'sent till ready, all kept', value: of(warm, 'bytes') / 1e3, unit: 'kB' },
  ];
}
