import { afterEach, describe, expect, inject, test } from 'vitest';
import { sound } from '../../src/words/en-US/sound.ts';
import {
  axeFaults,
  bringChecker,
  movement,
  sidewaysScroll,
  smallTargets,
} from '../support/accessFaults.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import {
  tourBedside,
  tourDemo,
  tourLock,
  tourPractice,
  tourRecord,
  tourRest,
  type Look,
} from '../support/tour.ts';

let browser: OpenBrowser | undefined;

afterEach(async () => {
  await browser?.close();
  browser = undefined;
});

/** Open a browser, and look at each state for what bars a person from it. */
async function looking() {
  const home = inject('baseUrl');
  const opened = await openBrowser({ context: { viewport: { width: 390, height: 844 } } });
  browser = opened;
  await bringChecker(opened.page);
  const seen: string[] = [];
  const faults: string[] = [];
  const look: Look = async (state) => {
    seen.push(state);
    const found = [
      ...(await axeFaults(opened.page)),
      ...(await smallTargets(opened.page)),
      ...(await sidewaysScroll(opened.page)),
      ...(await movement(opened.page)),
    ];
    faults.push(...found.map((fault) => `${state}: ${fault}`));
  };
  return { browser: opened, page: opened.page, home, seen, faults, look };
}

describe('When somebody needs other colours, large targets, large text or a screen reader', () => {
  test('each check sees a fault where there is one', async () => {
    const { page, look, faults } = await looking();
    await page.goto('about:blank');
    await page.setContent(
      `<html lang="en"><title>x</title><main><h1>x</h1><button style="width:30px">x</button>
      <p style="color:#bbb;background:#fff">pale</p><div style="width:50rem">wide</div></main>
      <style>@keyframes x { to { opacity: 0 } } h1 { animation: x 9s infinite }</style>`,
    );
    await look('made up');
    for (const seen of [
      /color-contrast/,
      /made up: 30 x \d+ px: <button/,
      /: 320 px: 8\d\d px/,
      /moves: <h1/,
    ])
      expect(faults.join('\n')).toMatch(seen);
  });

  test('nothing of a walk bars them', async () => {
    const { browser, home, look, seen, faults } = await looking();
    await tourBedside(await BedsidePage.open(browser, home), look);
    expect(faults).toEqual([]);
    expect(seen).toHaveLength(6);
  });

  test('nothing of practice bars them', async () => {
    const { browser, home, look, seen, faults } = await looking();
    await tourPractice(await BedsidePage.open(browser, home), home, look);
    expect(faults).toEqual([]);
    expect(seen).toHaveLength(13);
  });

  test('nothing of the demo, the review, the sheet and the handover bars them', async () => {
    const { page, home, look, seen, faults } = await looking();
    await tourDemo(page, home, look);
    await tourRecord(page, home, look);
    expect(faults).toEqual([]);
    expect(seen).toHaveLength(15);
  });

  test('nothing of the set-up, the sound check and the lock bars them', async () => {
    const { browser, page, home, look, seen, faults } = await looking();
    await BedsidePage.open(browser, home);
    await tourRest(browser, home, look);
    await tourLock(page, home, look);
    expect(faults).toEqual([]);
    expect(seen).toHaveLength(25);
  });
});

describe('When a screen reader is in use', () => {
  /** What a live region of the walk says by itself. */
  const live = (bedside: BedsidePage) =>
    bedside.page
      .locator('main.walk :is([role=status], [role=alert], [aria-live]:not([aria-live=off]))')
      .allInnerTexts();

  test('it reads nothing out that the voice says', async () => {
    const { browser, home } = await looking();
    const bedside = await BedsidePage.open(browser, home);
    await bedside.begin();
    await bedside.untilListening();
    expect(await live(bedside)).toEqual([]);
    await bedside.type('there is blood');
    await bedside.voice.untilSaid(/Tell the nurse/);
    await bedside.untilListening();
    expect(await live(bedside)).toEqual([]);
  });

  test('it reads the caption out where the voice is set to be quiet', async () => {
    const { browser, page, home } = await looking();
    await page.goto(`${home}#/sound`);
    await page.getByLabel(sound.voice.quiet).check();
    const bedside = await BedsidePage.open(browser, home);
    await bedside.begin();
    await bedside.untilListening();
    await expect.poll(() => live(bedside)).toEqual([expect.stringContaining('Clean your hands.')]);
  });
});
