/**
 * Pictures of every screen: phone, tablet, desktop; light and night.
 *
 *     npm run screenshots            writes demo/pictures/
 *     npm run screenshots -- DIR     writes there
 */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser } from '../support/browser.ts';
import { enterDemo } from '../support/demoPage.ts';
import { buildApp, serve } from '../support/server.ts';
import { tourBedside } from '../support/tour.ts';

const sizes = { phone: [390, 844], tablet: [820, 1180], desktop: [1440, 900] } as const;
const themes = { light: 'light', night: 'dark' } as const;

const folder = resolve(process.argv[2] ?? join(import.meta.dirname, '../../demo/pictures'));
mkdirSync(folder, { recursive: true });

const build = await buildApp();
const server = await serve(build.folder);
const browser = await openBrowser();
const { page } = browser;
const pictures: string[] = [];

/** The files of the states of a walk. */
const named: Readonly<Record<string, string>> = {
  'bedside: choose': 'choose',
  'bedside: a step': 'step',
  'bedside: read back': 'reading',
  'bedside: a number kept, talk let pass': 'kept',
  'bedside: held, tell the nurse': 'held',
  'bedside: done': 'done',
};

async function shoot(name: string): Promise<void> {
  for (const [size, [width, height]] of Object.entries(sizes)) {
    await page.setViewportSize({ width, height });
    for (const [theme, colorScheme] of Object.entries(themes)) {
      await page.emulateMedia({ colorScheme });
      const picture = `${name}-${size}-${theme}.png`;
      await page.screenshot({ path: join(folder, picture) });
      pictures.push(picture);
    }
  }
}

async function place(hash: string, name: string): Promise<void> {
  await page.goto(`${server.url}#/${hash}`);
  await page.locator('main').first().waitFor();
  await page.waitForLoadState('networkidle');
  await shoot(name);
}

try {
  const aide = await BedsidePage.open(browser, server.url);
  await tourBedside(aide, (state) => shoot(named[state] ?? state));
  await place('review', 'review');
  await place('sheet', 'sheet');
  await place('handover', 'handover');
  await place('practice', 'practice');
  await place('unit', 'unit');
  await place('sound', 'sound');
  await enterDemo(page, server.url);
  await shoot('demo');
  await place('review', 'demo-review');
  console.log(`${pictures.length} pictures in ${folder}`);
} finally {
  await browser.close();
  await server.close();
  await build.remove();
}
