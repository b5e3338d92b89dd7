/**
 * Pictures of every screen: phone, tablet, desktop; light and night.
 *
 *     npm run screenshots            writes demo/pictures/
 *     npm run screenshots -- DIR     writes there
 */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { demo } from '../../src/words/en-US/demo.ts';
import { lock } from '../../src/words/en-US/lock.ts';
import { sound } from '../../src/words/en-US/sound.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser } from '../support/browser.ts';
import { buildApp, serve } from '../support/server.ts';
import { button } from '../support/lockPage.ts';
import { tourBedside, tourDemo, tourLock } from '../support/tour.ts';

const sizes = { phone: [390, 844], tablet: [820, 1180], desktop: [1440, 900] } as const;
const themes = { light: 'light', night: 'dark' } as const;

const folder = resolve(process.argv[2] ?? join(import.meta.dirname, '../../demo/pictures'));
mkdirSync(folder, { recursive: true });

const build = await buildApp();
const server = await serve(build.folder);
const browser = await openBrowser();
const { page } = browser;
const pictures: string[] = [];

/** The files of the states that the tours go to. */
const named: Readonly<Record<string, string>> = {
  'bedside: choose': 'choose',
  'bedside: a step': 'step',
  'bedside: read back': 'reading',
  'bedside: a number kept, talk let pass': 'kept',
  'bedside: held, tell the nurse': 'held',
  'bedside: done': 'done',
  'demo: entry': 'demo',
  'demo: no voice': 'demo-no-voice',
  'demo: first minute': 'demo-walk',
  'demo: read back': 'demo-read-back',
  'demo: read in digits': 'demo-digits',
  'demo: kept': 'demo-kept',
  'demo: now you': 'demo-now-you',
  'lock: set up': 'lock-set-up',
  'lock: recovery code': 'lock-code',
  lock: 'lock',
  'lock: wrong PIN': 'lock-wrong',
  'lock: forgotten': 'lock-forgotten',
};
const look = (state: string): Promise<void> =>
  shoot(named[state] ?? state, state === 'lock: set up' ? lockForm : undefined);

/** @param anew - for a state that does not last: brings the page into it before each picture */
async function shoot(name: string, anew = () => Promise.resolve()): Promise<void> {
  for (const [size, [width, height]] of Object.entries(sizes)) {
    await page.setViewportSize({ width, height });
    for (const [theme, colorScheme] of Object.entries(themes)) {
      await page.emulateMedia({ colorScheme });
      await anew();
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

/** Another size moves the page; what is filled in stands at the end of a long set-up. */
async function lockForm(): Promise<void> {
  await page.getByRole('group', { name: lock.part.choose }).scrollIntoViewIfNeeded();
  await button(page, lock.part.make).scrollIntoViewIfNeeded();
}

/** How the device listens is asked for when the page is opened: a browser that never answers. */
async function soundCheck(): Promise<void> {
  await shoot('sound-finding', async () => {
    await page.goto('about:blank');
    await page.goto(`${server.url}?unanswered#/sound`);
    await page.getByText(sound.check.finding).waitFor();
  });
  await page.goto(server.url);
  await place('sound', 'sound');
  await button(page, sound.check.start).click();
  await page.getByText(sound.check.say).waitFor({ timeout: 60_000 });
  await shoot('sound-listening');
  await page.getByRole('alert').waitFor({ timeout: 60_000 });
  await shoot('sound-not-heard');
}

try {
  await page.addInitScript(() => {
    if (location.search !== '?unanswered') return;
    const names = ['SpeechRecognition', 'webkitSpeechRecognition'] as const;
    const types = globalThis as Partial<Record<(typeof names)[number], { available: unknown }>>;
    for (const name of names) {
      const type = types[name];
      if (type !== undefined) type.available = () => new Promise(() => undefined);
    }
  });
  const aide = await BedsidePage.open(browser, server.url);
  await tourBedside(aide, look);
  await place('review', 'review');
  await place('sheet', 'sheet');
  await place('handover', 'handover');
  await place('practice', 'practice');
  await place('unit', 'unit');
  await soundCheck();
  await tourDemo(page, server.url, look);
  await place('review', 'demo-review');
  await place('sheet', 'demo-sheet');
  await place('handover', 'demo-handover');
  await button(page, demo.leave).click();
  await tourLock(page, server.url, look);
  console.log(`${pictures.length} pictures in ${folder}`);
} finally {
  await browser.close();
  await server.close();
  await build.remove();
}
