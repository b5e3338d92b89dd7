import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, inject, test } from 'vitest';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { typeToEntry } from '../support/typeToEntry.ts';

let browser: OpenBrowser;
let page: Page;
let aide: BedsidePage;

beforeEach(async () => {
  browser = await openBrowser();
  ({ page } = browser);
  aide = await BedsidePage.open(browser, inject('baseUrl'));
  await aide.begin();
  await typeToEntry(aide);
  await aide.page.getByRole('link', { name: 'See it in review' }).click();
  await page.getByText('400 mL').first().waitFor();
});

afterEach(() => browser.close());

const signIn = (initials: string) => page.getByLabel('Signed in').selectOption(initials);
const decisions = async () =>
  (await aide.events()).filter(({ type }) => /^(entry\.(?!viewed)|decision)/.test(type));

describe('When an entry waits for review', () => {
  test('the aide who made it can not confirm it; a nurse does, with one key', async () => {
    await expect(page.getByRole('button', { name: /^Confirm/ }).isDisabled()).resolves.toBe(true);
    await signIn('JP');
    await page.locator('body').press('c');
    await page.getByText(/^Confirmed: /).waitFor();
    expect(await decisions()).toMatchObject([
      { type: 'entry.drafted', amount: { mL: 400 } },
      { type: 'entry.confirmed', by: { initials: 'JP', role: 'nurse' } },
    ]);
  });

  test('a nurse amends it with a reason, and the original stays readable', async () => {
    await signIn('JP');
    await page.locator('body').press('a');
    await page.getByLabel(/Amount/).fill('425');
    await page.getByLabel('Reason').fill('read again at eye level');
    await page.getByRole('button', { name: 'Keep the amendment' }).click();
    await page.getByText(/^Amended: /).waitFor();
    expect((await decisions()).at(-1)).toMatchObject({
      type: 'entry.amended',
      reason: 'read again at eye level',
      changes: { amount: { was: { mL: 400 }, is: { mL: 425 } } },
    });
    await page.getByRole('button', { name: /^History/ }).click();
    await page.getByText(/read again at eye level/).waitFor();
    await page.getByText('400 mL').first().waitFor();
  });

  test('a nurse strikes it out with a reason; it no longer counts, and nothing is gone', async () => {
    await signIn('JP');
    await page.locator('body').press('s');
    await page.getByLabel('Reason').fill('wrong bed');
    await page
      .getByRole('button', { name: /Strike/ })
      .last()
      .click();
    await page.getByText(/^Struck out: /).waitFor();
    expect((await decisions()).map(({ type }) => type)).toEqual(['entry.drafted', 'entry.struck']);
  });
});
