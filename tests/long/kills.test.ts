import { appendFile, mkdtemp, readdir, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { Random } from '../bench/numbers/random.ts';
import { serveWard, type WardPage } from '../support/wardPage.ts';

const kills = Number(process.env.KILLS ?? 60);
const seed = Number(process.env.KILLS_SEED ?? Date.now() % 1_000_000);

let ward: WardPage;
let profile: string;

beforeAll(async () => {
  ward = await serveWard();
});
afterAll(() => ward.close());
beforeEach(async () => {
  profile = await mkdtemp(join(tmpdir(), 'gloveside-kills-'));
});
afterEach(() => rm(profile, { recursive: true, force: true, maxRetries: 5 }));

/**
 * Open a browser on the record, look that nothing acknowledged is missing, write on, and kill it.
 *
 * @param after - ms from the first event that is acknowledged until the kill; null to look only
 */
async function oneLife(acknowledged: Set<string>, after: number | null): Promise<void> {
  const browser = await ward.open(profile);
  try {
    const { page } = browser;
    const kept = new Set(await page.evaluate(() => window.ward.idsIn('kills')));
    expect([...acknowledged].filter((id) => !kept.has(id))).toEqual([]);
    if (after === null) return;
    const before = acknowledged.size;
    await page.exposeFunction('acknowledge', (id: string) => acknowledged.add(id));
    await page.evaluate(() => {
      const { acknowledge } = window as unknown as { acknowledge: (id: string) => void };
      void window.ward.writeOn('kills', acknowledge);
    });
    await expect.poll(() => acknowledged.size, { interval: 5 }).toBeGreaterThan(before);
    await new Promise((done) => setTimeout(done, after));
    await browser.kill();
  } finally {
    await browser.close();
  }
}

describe('When the browser is killed at any moment while it writes', () => {
  test(
    'no event that was acknowledged is ever missing',
    { retry: 0, timeout: 1_500_000 },
    async () => {
      console.info(`kills: seed ${seed}, ${kills} kills (KILLS_SEED and KILLS repeat a run)`);
      const random = new Random(seed);
      const acknowledged = new Set<string>();
      for (let round = 0; round < kills; round++) {
        const before = acknowledged.size;
        await oneLife(acknowledged, random.below(250));
        expect({ round, wrote: acknowledged.size > before }).toEqual({ round, wrote: true });
      }
      await oneLife(acknowledged, null);
      console.info(
        `kills: ${kills} survived, ${acknowledged.size} acknowledged events, each there after every kill`,
      );
    },
  );
});

/** The folder that Chromium keeps the record in, or its spare. */
async function folderOf(which: 'record' | 'spare'): Promise<string> {
  const home = join(profile, 'Default', which === 'record' ? 'IndexedDB' : 'WebStorage');
  const found = await readdir(home, { recursive: true });
  const folder = found.find((path) => path.endsWith('indexeddb.leveldb'));
  if (folder === undefined) throw new Error(`no_folder: ${home} holds no database`);
  return join(home, folder);
}

/** A record that was begun and not written: its header alone, as a kill between the two leaves it. */
const torn = Buffer.from([0x59, 0x59, 0xdb, 0x36, 0x5b, 0x01, 0x01]);

async function tear(folder: string): Promise<void> {
  const logs = (await readdir(folder)).filter((name) => name.endsWith('.log'));
  expect(logs.length).toBeGreaterThan(0);
  for (const log of logs) await appendFile(join(folder, log), torn);
}

/**
 * Made with the database: another one means that the browser threw the files away. Its number alone
 * tells nothing, for a disk may give it to the next file.
 */
async function madeAs(folder: string): Promise<string> {
  const { ino, birthtimeMs } = await stat(join(folder, 'MANIFEST-000001'));
  return `${ino} of ${birthtimeMs}`;
}

describe('When a kill tears the browser’s own files in such a way that it throws them away', () => {
  test.each(['record', 'spare'] as const)(
    'those of the %s: nothing acknowledged is missing, once and again',
    { timeout: 300_000 },
    async (which) => {
      const acknowledged = new Set<string>();
      await oneLife(acknowledged, 400);
      for (let again = 0; again < 2; again++) {
        const folder = await folderOf(which);
        const made = await madeAs(folder);
        await tear(folder);
        // The first start goes on behind the tear; the second can not read what came after it.
        await oneLife(acknowledged, 400);
        await oneLife(acknowledged, 400);
        expect(await madeAs(await folderOf(which))).not.toBe(made);
        await oneLife(acknowledged, null);
      }
    },
  );
});
