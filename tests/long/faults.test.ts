import { afterEach, describe, expect, inject, test } from 'vitest';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { bedside } from '../../src/words/en-US/bedside.ts';
import { errors } from '../../src/words/errors.ts';
import { BedsidePage, type BedsideOptions } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { typeToEntry } from '../support/typeToEntry.ts';

const [first, second] = drainageBag.steps.map(({ call }) => call);

let browser: OpenBrowser | undefined;

afterEach(async () => {
  await browser?.close();
  browser = undefined;
});

async function openBedside(
  options: BedsideOptions = {},
  script?: () => void,
): Promise<BedsidePage> {
  browser = await openBrowser();
  if (script !== undefined) await browser.page.addInitScript(script);
  return BedsidePage.open(browser, inject('baseUrl'), options);
}

/** Words typed in place of spoken ones, whatever the ear does. */
async function type(aide: BedsidePage, words: string): Promise<void> {
  await aide.page.getByLabel('Type what you would say').fill(words);
  await aide.page.getByRole('button', { name: 'Say it' }).click();
}

describe('When there is no ear', () => {
  test.each([
    ['NotAllowedError', 'microphone_denied'],
    ['NotFoundError', 'microphone_missing'],
  ] as const)('%s is shown and said, and typing goes on', async (fault, code) => {
    const aide = await openBedside({ microphone: { fault } });
    await aide.begin();
    await aide.untilStep(first ?? '');
    await aide.page.getByRole('alert').getByText(errors[code].todo).waitFor();
    await aide.voice.untilSaid(new RegExp(errors[code].title));
    await type(aide, 'next');
    await aide.untilStep(second ?? '');
  });

  test('a microphone that comes back is listened to again', async () => {
    const aide = await openBedside({ microphone: { fault: 'NotAllowedError' } });
    await aide.begin();
    await aide.page.getByRole('alert').getByText(errors.microphone_denied.todo).waitFor();
    await aide.allowMicrophone();
    await aide.page.getByRole('button', { name: 'Try the microphone again' }).click();
    await aide.untilListening();
    await aide.say('next');
    await aide.untilStep(second ?? '');
  });
});

describe('When the ear comes slowly over the network', () => {
  test('its loading is shown, can be stopped, goes on at a tap or with a walk, and is never waited for', async () => {
    browser = await openBrowser();
    const { page, context, requests } = browser;
    const held: (() => void)[] = [];
    let slow = true;
    await context.route(/sendump/, async (route) => {
      if (slow) await new Promise<void>((go) => held.push(go));
      await route.continue().catch(() => undefined);
    });
    const asked = () => requests.filter(({ url }) => url.includes('sendump')).length;
    const aide = await BedsidePage.open(browser, inject('baseUrl'));
    const bar = page.getByRole('progressbar', { name: bedside.choose.earLoaded });
    await bar.waitFor();
    await expect.poll(asked).toBe(1);
    await page.getByRole('button', { name: bedside.choose.earStop }).click();
    await page.getByText(bedside.choose.earStopped).waitFor();
    expect(await bar.count()).toBe(0);
    expect(await page.evaluate(() => navigator.serviceWorker.controller)).toBeNull();

    await page.getByRole('button', { name: bedside.choose.earLoad }).click();
    await bar.waitFor();
    await expect.poll(asked).toBe(2);
    await page.getByRole('button', { name: bedside.choose.earStop }).click();
    await page.getByText(bedside.choose.earStopped).waitFor();

    await aide.begin();
    await aide.untilStep(first ?? '');
    await page.getByText(bedside.walk.earLoading).waitFor();
    await expect.poll(asked).toBe(3);
    await type(aide, 'next');
    await aide.untilStep(second ?? '');
    slow = false;
    for (const go of held) go();
    await aide.untilListening();
    await expect.poll(() => page.getByText(bedside.walk.earLoading).count()).toBe(0);
    expect(browser.leaving(inject('baseUrl'))).toEqual([]);
  });
});

describe('When the system has no voice of its own', () => {
  test.each(['none', 'remote'] as const)(
    'with voices: %s, the bundled voice is fetched and speaks, and nothing goes elsewhere',
    async (voices) => {
      const aide = await openBedside({ voice: { voices } });
      await aide.begin();
      await aide.untilStep(first ?? '');
      await aide.untilListening();
      expect(browser?.requests.some(({ url }) => /flite.*\.wasm/.test(url))).toBe(true);
      expect(aide.voice.spoken()).toEqual([]);
      expect(browser?.leaving(inject('baseUrl'))).toEqual([]);
    },
  );
});

describe('When the browser refuses to keep anything', () => {
  test('the screen says so, the walk goes on, and the entry is not called saved', async () => {
    const aide = await openBedside({}, () => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('refused', 'SecurityError');
      };
    });
    await aide.page.getByText(errors.storage_refused.title).waitFor();
    await aide.begin();
    await aide.untilStep(first ?? '');
    await aide.page.getByText('This device can not keep the number.').waitFor();
    await aide.voice.untilSaid(/can not keep the number on this device/);
    await typeToEntry(aide);
    await aide.page.getByText('Not saved yet. Trying again.').waitFor();
    await aide.voice.untilSaid(/not saved yet/);
    await aide.page.getByText('400 mL', { exact: true }).first().waitFor();
  });
});
