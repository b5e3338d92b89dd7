import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { serveWard, type WardPage } from '../support/wardPage.ts';

const walks = Number(process.env.SOAK_WALKS ?? 200);
const seed = Number(process.env.SOAK_SEED ?? Date.now() % 1_000_000);

let ward: WardPage;
beforeAll(async () => {
  ward = await serveWard();
});
afterAll(() => ward.close());

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

describe('When one page does walk after walk, and everything goes wrong in them', () => {
  test(
    'no promise is broken, the heap stays flat and nothing is left running',
    { retry: 0, timeout: 1_500_000 },
    async () => {
      console.info(`soak: seed ${seed}, ${walks} walks (SOAK_SEED and SOAK_WALKS repeat a run)`);
      const browser = await ward.open();
      try {
        const { page } = browser;
        await page.exposeFunction('tell', (done: number) => {
          console.info(`soak: ${done} of ${walks}`);
        });
        const soaked = await page.evaluate(
          ([from, count]) =>
            window.ward.soak(from, count, (window as unknown as { tell: () => void }).tell),
          [seed, walks] as const,
        );
        const { counts, heaps, broken, chainFaults, events, refusals, timersLeft } = soaked;
        const faults = ['ear ends', 'ear fails', 'reload', 'disk full'].map((what) => [
          what,
          counts[what] ?? 0,
        ]);
        console.info(
          `soak: ${events} events, ${refusals} writes refused, ${JSON.stringify(counts)}, heap MB ${heaps.map((heap) => heap.toFixed(1)).join(' ')}`,
        );
        expect(broken).toEqual([]);
        expect(chainFaults).toBe(0);
        for (const [what, count] of faults) expect({ what, count }).not.toEqual({ what, count: 0 });
        expect(timersLeft).toBe(0);
        expect(page.workers()).toEqual([]);
        // Flat: the last three tenths are no higher than the second to fourth, but for a little noise.
        expect(median(heaps.slice(-3))).toBeLessThan(median(heaps.slice(1, 4)) * 1.1 + 1);
        expect(browser.errors).toEqual([]);
      } finally {
        await browser.close();
      }
    },
  );
});
