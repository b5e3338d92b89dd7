import type { Page } from 'playwright-core';
import { afterEach, describe, expect, inject, test } from 'vitest';
import type { EventOf } from '../../src/charting/events.ts';
import { openBrowser, type BrowserOptions, type OpenBrowser } from '../support/browser.ts';
import { enterDemo } from '../support/demoPage.ts';
import { giveVoice } from '../support/fakeVoice.ts';
import { recordOnDisk } from '../support/recordOnDisk.ts';

let browser: OpenBrowser;
let page: Page;

async function open(context: BrowserOptions['context'] = {}): Promise<void> {
  browser = await openBrowser({ context });
  ({ page } = browser);
  await giveVoice(page);
}

afterEach(() => browser.close());

const drafts = async (name: string) =>
  (await recordOnDisk(page, name)).filter(
    (event): event is EventOf<'entry.drafted'> => event.type === 'entry.drafted',
  );
const skip = () => page.getByRole('button', { name: 'Skip ahead' }).click();
const nowYou = () => page.getByRole('heading', { name: 'Now you' }).waitFor({ timeout: 60_000 });

/** From the disputed number, read back in digits, to the end of the walk. */
async function heardToItsEnd(): Promise<void> {
  await page
    .locator('.tape')
    .getByText(/three, five, zero/i)
    .waitFor({ timeout: 60_000 });
  await page
    .getByText(/color, clear or cloudy/i)
    .first()
    .waitFor({ timeout: 60_000 });
  await skip();
  await nowYou();
}

describe('When a newcomer hears the first minute', () => {
  test('the reading goes through the ear, is disputed and agreed to, and stands in the demo alone', async () => {
    await open();
    await enterDemo(page, inject('baseUrl'));
    await page.getByText('Demo wing: all of it is invented.').waitFor();
    const before = await drafts('gloveside-demo');
    await page.getByRole('button', { name: 'Hear one whole walk' }).click();
    await page.locator('.tape').waitFor({ timeout: 60_000 });
    await skip();
    await page.locator('.tape').getByText('no', { exact: true }).waitFor({ timeout: 60_000 });
    await heardToItsEnd();

    const after = await drafts('gloveside-demo');
    const [made, ...others] = after.filter(({ id }) => !before.some((event) => event.id === id));
    expect(others).toEqual([]);
    expect(made).toMatchObject({
      bed: 'Bed 12',
      amount: { method: 'measured', mL: 350 },
      evidence: {
        tries: 2,
        heard: [
          { ear: 'bundled', made: 300 },
          { ear: 'bundled', made: 350 },
        ],
      },
    });
    expect(await recordOnDisk(page, 'gloveside')).toEqual([]);
    expect(browser.leaving(inject('baseUrl'))).toEqual([]);
    expect(browser.errors).toEqual([]);
  }, 120_000);
});

describe('When the aide’s voice can not be had', () => {
  test('the same walk is seen with words on the screen; then the demo is left and begun anew', async () => {
    // A service worker would bring the voice past the test.
    await open({ serviceWorkers: 'block' });
    await page.route(/flite.*\.wasm/, (route) => route.abort());
    await enterDemo(page, inject('baseUrl'));
    await page.getByRole('button', { name: 'Hear one whole walk' }).click();
    await page.getByRole('button', { name: 'Go on with words only' }).click();
    await skip();
    await heardToItsEnd();
    const made = (await drafts('gloveside-demo')).at(-1);
    expect(made).toMatchObject({
      amount: { mL: 350 },
      evidence: {
        heard: [
          { ear: 'typed', made: 300 },
          { ear: 'typed', made: 350 },
        ],
      },
    });

    await page.reload();
    await page.getByText('Demo wing: all of it is invented.').waitFor();
    page.on('dialog', (dialog) => void dialog.accept());
    await page.getByRole('button', { name: 'Start over' }).click();
    await page.getByRole('button', { name: 'Hear one whole walk' }).waitFor();
    const ids = (await drafts('gloveside-demo')).map(({ entry }) => entry);
    expect(ids).not.toContain(made?.entry);
    await page.getByRole('button', { name: 'Leave the demo' }).click();
    await page.getByRole('radio', { name: 'Bed 4', exact: true }).waitFor();
    expect(await page.getByText('Demo wing: all of it is invented.').count()).toBe(0);
    expect(await recordOnDisk(page, 'gloveside')).toEqual([]);
  }, 120_000);
});
