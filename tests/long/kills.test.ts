import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, afterEach, describe, expect, test } from 'vitest';
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

describe('When the browser is killed at any moment while it writes', () => {
  test(
    'no event that was acknowledged is ever missing',
    { retry: 0, timeout: 1_500_000 },
    async () => {
      console.info(`kills: seed ${seed}, ${kills} kills (KILLS_SEED and KILLS repeat a run)`);
      const random = new Random(seed);
      const acknowledged = new Set<string>();
      const rounds: number[] = [];
      for (let round = 0; round <= kills; round++) {
        const browser = await ward.open(profile);
        try {
          const { page } = browser;
          const kept = new Set(await page.evaluate(() => window.ward.idsIn('kills')));
          const missing = [...acknowledged].filter((id) => !kept.has(id));
          expect({ round, missing }).toEqual({ round, missing: [] });
          if (round === kills) break;
          const before = acknowledged.size;
          await page.exposeFunction('acknowledge', (id: string) => acknowledged.add(id));
          await page.evaluate(() => {
            const { acknowledge } = window as unknown as { acknowledge: (id: string) => void };
            void window.ward.writeOn('kills', acknowledge);
          });
          await expect.poll(() => acknowledged.size, { interval: 5 }).toBeGreaterThan(before);
          await new Promise((done) => setTimeout(done, random.below(250)));
          await browser.kill();
          rounds.push(acknowledged.size - before);
        } finally {
          await browser.close();
        }
      }
      expect(rounds).toHaveLength(kills);
      console.info(
        `kills: ${kills} survived, ${acknowledged.size} acknowledged events, each there after every kill`,
      );
    },
  );
});
