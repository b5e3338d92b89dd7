import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, test } from 'vitest';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { filledWing, type FilledWing } from '../support/filledWing.ts';
import { storyStart } from '../support/ledgerStory.ts';

const hour = 3_600_000;
const home = inject('baseUrl');
let wing: FilledWing;
let browser: OpenBrowser;
let page: Page;

/** Two hours of a day in March, and the hour and a half that just went by. */
beforeAll(async () => {
  wing = await filledWing(60, [storyStart + hour, Date.now() - 1.5 * hour]);
});

beforeEach(async () => {
  browser = await openBrowser({ context: { timezoneId: 'UTC' } });
  ({ page } = browser);
});

afterEach(() => browser.close());
afterAll(() => wing.remove());

async function go(place: string): Promise<void> {
  await page.goto(`${home}#/${place}`);
  await page.locator('main').first().waitFor();
}

async function bringBack(): Promise<void> {
  await go('sheet');
  await page.getByLabel('Bring a backup back').setInputFiles(wing.backup);
  await page.getByText(`${wing.events.length} events added, 0 were here already.`).waitFor();
}

const papers = { A4: [595, 842], Letter: [612, 792] } as const;

/** How many pages a print has, and their size in points. */
async function printed(format: keyof typeof papers) {
  const pdf = (await page.pdf({ format })).toString('latin1');
  const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/.exec(pdf) ?? [];
  const pages = [...pdf.matchAll(/\/Type\s*\/Page(?![a-z])/g)].length;
  return { pages, width: Number(width), height: Number(height) };
}

async function expectOnePage(what: string): Promise<void> {
  for (const format of ['A4', 'Letter'] as const) {
    const { pages, width, height } = await printed(format);
    expect([what, format, pages]).toEqual([what, format, 1]);
    // The browser rounds a paper up to its own pixels, so less than 2 points.
    const [wide, high] = papers[format];
    expect(Math.max(Math.abs(width - wide), Math.abs(height - high))).toBeLessThan(2);
  }
}

describe('When a wing of 60 beds is printed', () => {
  test('the wing of a shift, the sheet of a bed and the handover are one page each', async () => {
    await bringBack();
    await go('sheet/Bed%2060/2026-03-02');
    await page.locator('.paper').getByText('Bed 60', { exact: true }).waitFor();
    await expectOnePage('sheet');

    await page.getByLabel('Whole wing, one shift').check();
    await page
      .locator('.controls')
      .getByText('Shift')
      .locator('xpath=..')
      .locator('select')
      .selectOption({ index: 0 });
    await page
      .locator('.paper')
      .getByRole('row', { name: /^Bed 60 / })
      .waitFor();
    await expectOnePage('wing');

    await go('handover');
    await page.getByLabel('Since').selectOption('24 hours ago');
    await page
      .locator('.paper')
      .getByRole('row', { name: /^Bed 60 / })
      .waitFor();
    await expectOnePage('handover');
  });
});
