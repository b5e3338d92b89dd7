/**
 * Pictures of every screen: phone, tablet, desktop; light and night.
 *
 *     npm run screenshots            writes demo/pictures/
 *     npm run screenshots -- DIR     writes there
 */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser } from '../support/browser.ts';
import { enterDemo } from '../support/demoPage.ts';
import { buildApp, serve } from '../support/server.ts';

const sizes = { phone: [390, 844], tablet: [820, 1180], desktop: [1440, 900] } as const;
const themes = { light: 'light', night: 'dark' } as const;

const folder = resolve(process.argv[2] ?? join(import.meta.dirname, '../../demo/pictures'));
mkdirSync(folder, { recursive: true });

const build = await buildApp();
const server = await serve(build.folder);
const browser = await openBrowser();
const { page } = browser;
const pictures: string[] = [];

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
  const { steps } = drainageBag;
  const reading = steps.findIndex(({ kind }) => kind === 'reading');
  const aide = await BedsidePage.open(browser, server.url);
  await shoot('choose');
  await aide.begin();
  await aide.untilListening();
  await shoot('step');
  for (const { call } of steps.slice(0, reading)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep(steps[reading]?.call ?? '');
  await aide.type('three fifty');
  await aide.voice.untilSaid(/three, five, zero/);
  await aide.untilListening();
  await shoot('reading');
  await aide.type('correct');
  await aide.untilStep(steps[reading + 1]?.call ?? '');
  await aide.untilListening();
  await aide.type('good morning dear');
  await shoot('kept');
  await aide.type('there is blood');
  await aide.voice.untilSaid(/Tell the nurse/);
  await aide.untilListening();
  await shoot('held');
  await aide.type('carry on');
  for (const { call } of steps.slice(reading + 1, -1)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep('The entry waits for review.');
  await shoot('done');
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
