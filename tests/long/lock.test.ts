import { afterEach, beforeEach, describe, expect, inject, test } from 'vitest';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { lock as words } from '../../src/words/en-US/lock.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { putLockOn, unlock, untilLocked } from '../support/lockPage.ts';

const calls = drainageBag.steps.map(({ call }) => call);
const gloves = drainageBag.steps.findIndex(({ marks }) => marks.includes('glovesOn'));
const home = inject('baseUrl');
const minute = 60_000;
let browser: OpenBrowser;

beforeEach(async () => {
  browser = await openBrowser({ clock: new Date('2026-03-02T07:00:00Z') });
});

afterEach(() => browser.close());

describe('When a locked unit is left alone', () => {
  test('it locks by itself, but never while gloves are on, and the walk is found again', async () => {
    const { page } = browser;
    const aide = await BedsidePage.open(browser, home);
    await putLockOn(page, home, 'pins', '480271');
    await unlock(page, 'BO', '480271');
    await page.getByText('BO · setup').waitFor();
    await page.goto(`${home}#/bedside`);
    await page.clock.fastForward(4 * minute);
    await page.getByText('BO · setup').waitFor();
    await page.clock.fastForward(2 * minute);
    await untilLocked(page);

    await unlock(page, 'BO', '480271');
    await aide.begin();
    for (const call of calls.slice(0, gloves)) {
      await aide.untilStep(call);
      await aide.type('next');
    }
    await aide.untilStep(calls[gloves] ?? '');
    for (let turn = 0; turn < 6; turn += 1) await page.clock.fastForward(10 * minute);
    expect(await aide.step()).toBe(calls[gloves]);
    expect(await page.getByText(words.title).count()).toBe(0);

    await page.reload();
    await unlock(page, 'BO', '480271');
    await page.getByRole('button', { name: 'Go on where it was' }).click();
    await aide.untilStep(calls[gloves] ?? '');
    expect(browser.errors).toEqual([]);
  });
});
