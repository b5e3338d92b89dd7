import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, inject, test } from 'vitest';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { lock as words } from '../../src/words/en-US/lock.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { button, putLockOn, unlock, untilLocked } from '../support/lockPage.ts';
import { readableIn } from '../support/storageScan.ts';

const calls = drainageBag.steps.map(({ call }) => call);
const reading = drainageBag.steps.findIndex(({ kind }) => kind === 'reading');
const home = inject('baseUrl');
let browser: OpenBrowser;
let page: Page;

beforeEach(async () => {
  browser = await openBrowser();
  ({ page } = browser);
});

afterEach(() => browser.close());

async function walkTo(aide: BedsidePage, step: number, from = 0): Promise<void> {
  for (const call of calls.slice(from, step)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep(calls[step] ?? '');
}

describe('When a unit is locked with PINs', () => {
  test('nothing readable is at rest, a wrong PIN is refused and noted, the right one finds the walk', async () => {
    const aide = await BedsidePage.open(browser, home);
    await page.getByRole('link', { name: words.mark.none }).waitFor();
    await aide.begin();
    await walkTo(aide, reading);
    await aide.type('three fifty');
    await aide.voice.untilSaid(/three, five, zero/);
    await aide.type('correct');
    await aide.untilStep(calls[reading + 1] ?? '');
    await page.reload();
    // Long enough not to come by chance in sealed bytes, ids and times.
    const readable = [/"initials"/, /Bed 4/, /drainage-bag/, /"initials":"MK"/, /"amount":350/];
    for (const each of readable) expect(await readableIn(page, [each])).not.toEqual([]);

    await putLockOn(page, home, 'pins', '480271');
    expect(await readableIn(page, readable)).toEqual([]);

    await unlock(page, 'BO', '480272');
    await page.getByText(words.wrong.pins).waitFor();
    await page.reload();
    await unlock(page, 'BO', '480271');
    await page.locator('#unit-lock > summary').click();
    await page.getByText(words.part.notes).click();
    await page.getByText(/came in after 1 wrong try/).waitFor();

    // A colleague gets a PIN, and signs with it and with nothing else.
    await button(page, words.part.set('MK')).click();
    await page.getByLabel(words.part.newPin('MK')).fill('135790');
    await page.getByLabel(words.part.again).fill('135790');
    await button(page, words.part.save).click();
    await page.getByText(words.part.saved('MK')).waitFor();
    await button(page, words.lockNow).click();
    await untilLocked(page);
    await unlock(page, 'MK', '135790');
    await page.getByText('MK · aide').waitFor();
    expect(await page.getByRole('combobox', { name: 'Signed in' }).count()).toBe(0);
    await page.getByText(words.part.setupOnly).first().waitFor();
    await page.goto(`${home}#/bedside`);
    await button(page, 'Go on where it was').click();
    await aide.untilStep(calls[reading + 1] ?? '');
    await page.getByText('350 mL', { exact: true }).first().waitFor();
    expect(await readableIn(page, readable)).toEqual([]);
    expect(browser.errors).toEqual([]);
    expect(browser.leaving(home)).toEqual([]);
  });
});

describe('When the passcode of a unit is forgotten', () => {
  test('the recovery code opens it, and the lock comes off with the record whole', async () => {
    const aide = await BedsidePage.open(browser, home);
    await aide.begin();
    await aide.untilStep(calls[0] ?? '');
    const before = await aide.events();
    await page.reload();
    const code = await putLockOn(page, home, 'unit', 'blue kettle');
    await page.getByText(words.forgot.title).click();
    await page.getByLabel(words.forgot.label).fill(code.toLowerCase());
    await button(page, words.forgot.use).click();
    await page.getByText(words.part.recovered).waitFor();
    await page.getByRole('combobox', { name: 'Signed in' }).selectOption('BO');
    await button(page, words.part.off).click();
    await button(page, words.part.offYes).click();
    await page.getByRole('link', { name: words.mark.none }).waitFor();
    const after = await aide.events();
    expect(after.map(({ id }) => id)).toEqual(expect.arrayContaining(before.map(({ id }) => id)));
    const noted = after.flatMap((event) => (event.type === 'lock.noted' ? [event.what] : []));
    expect(noted).toEqual(['recovered']);
    const names = await page.evaluate(async () =>
      (await indexedDB.databases()).map((it) => it.name),
    );
    expect(names).toEqual(['gloveside']);
  });
});

describe('When the app is open in two windows', () => {
  test('one writes, the other follows live, takes over, and goes on with the walk', async () => {
    const aide = await BedsidePage.open(browser, home);
    const other = await browser.context.newPage();
    await other.goto(`${home}#/review`);
    await other.getByText(words.follower.text).waitFor();
    await aide.begin();
    await walkTo(aide, 1);
    await other.goto(`${home}#/bedside`);
    await other.getByRole('heading', { name: words.follower.title }).waitFor();
    await button(other, words.follower.takeOver).click();
    await other
      .getByText(/not finished|unfinished|Empty a urinary drainage bag/)
      .first()
      .waitFor();
    await page.getByRole('heading', { name: words.follower.title }).waitFor();
    await button(other, 'Go on where it was').click();
    await other.getByRole('heading', { level: 1, name: calls[1] }).waitFor();
    const events = await aide.events();
    const walks = events.filter(({ type }) => type === 'walk.started');
    expect(walks).toHaveLength(1);
    expect(new Set(events.map(({ id }) => id)).size).toBe(events.length);
    expect(browser.errors).toEqual([]);
  });
});
