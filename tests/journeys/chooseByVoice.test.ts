import { afterEach, describe, expect, inject, test } from 'vitest';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';

let browser: OpenBrowser | undefined;

afterEach(async () => {
  await browser?.close();
  browser = undefined;
});

describe('When an aide chooses between residents', () => {
  test('one tap, a sentence and "begin" by microphone start the walk', async () => {
    browser = await openBrowser();
    const aide = await BedsidePage.open(browser, inject('baseUrl'), {
      voice: { msPerCharacter: 1 },
    });
    await aide.page.getByRole('button', { name: 'Say it instead' }).click();
    await aide.forgetTouches();
    await aide.voice.untilSaid(/Which bed, and what/);
    await aide.say('bed four drainage bag');
    await aide.voice.untilSaid(/Bed 4, empty a urinary drainage bag\. Say begin\./);
    await aide.say('begin');
    await aide.untilStep(drainageBag.steps[0]?.call ?? '');
    expect(await aide.touches()).toEqual([]);
    expect(browser.errors).toEqual([]);
  }, 180_000);

  test('typed words do the same, and stopping leaves the tiles as they were', async () => {
    browser = await openBrowser();
    const aide = await BedsidePage.open(browser, inject('baseUrl'), {
      voice: { msPerCharacter: 1 },
    });
    await aide.page.getByRole('button', { name: 'Say it instead' }).click();
    await aide.type('bed two urinal');
    await aide.voice.untilSaid(/Bed 2, .*Say begin\./);
    await aide.page.getByRole('button', { name: 'Stop listening' }).click();
    await aide.page.getByRole('button', { name: 'Say it instead' }).waitFor();
    expect((await aide.events()).map(({ type }) => type)).not.toContain('walk.started');
  }, 180_000);
});
