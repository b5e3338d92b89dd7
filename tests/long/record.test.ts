import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, test } from 'vitest';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { filledWing, type FilledWing } from '../support/filledWing.ts';
import { storyStart } from '../support/ledgerStory.ts';

const hour = 3_600_000;
const home = inject('baseUrl');
let wing: FilledWing;
let browser: OpenBrowser;
let page: Page;

/** An hour of a day in March. */
beforeAll(async () => {
  wing = await filledWing(60, [storyStart + hour]);
});

beforeEach(async () => {
  browser = await openBrowser({ context: { timezoneId: 'UTC' } });
  ({ page } = browser);
});

afterEach(() => browser.close());
afterAll(() => wing.remove());

async function go(place: string, to = page): Promise<void> {
  await to.goto(`${home}#/${place}`);
  await to.locator('main').first().waitFor();
}

const signIn = (initials: string, to = page) => to.getByLabel('Signed in').selectOption(initials);

async function bringBack(): Promise<void> {
  await go('sheet');
  await page.getByLabel('Bring a backup back').setInputFiles(wing.backup);
  await page.getByText(`${wing.events.length} events added, 0 were here already.`).waitFor();
}

/** Change what one event of the store says, as anybody with the developer tools could. */
const forgeOne = () =>
  page.evaluate(async () => {
    const asked = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error ?? new Error('request failed'));
      });
    const name = (await indexedDB.databases()).find((it) => it.name === 'gloveside')?.name;
    const database = await asked(indexedDB.open(name ?? ''));
    const store = database.transaction('events', 'readwrite').objectStore('events');
    const row = (await asked(store.getAll(null, 1)))[0] as { body: Uint8Array };
    const text = new TextDecoder().decode(row.body).replace('"initials":"TA"', '"initials":"TB"');
    await asked(store.put({ ...row, body: new TextEncoder().encode(text) }));
    database.close();
  });

describe('When a record came back from a backup', () => {
  test('it is told to be intact; an event that is changed in the store is named', async () => {
    await bringBack();
    await go('review');
    await page.getByText(/\d+ events of 2 devices: none changed/).waitFor();
    await page.getByText('Record intact').waitFor();
    await forgeOne();
    await page.getByRole('button', { name: 'Check it all again' }).click();
    const alert = page.getByRole('alert').filter({ hasText: 'The record is not intact' });
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(
      /Device \w{6}, event \d+: This event was changed after it was recorded.*entry drafted, Bed 1, TB, /s,
    );
    expect(await page.getByText('Record intact').count()).toBe(0);
  });
});

describe('When two reviewers have the same entry before them', () => {
  test('the second is told who was first, and nothing is overwritten', async () => {
    await bringBack();
    await signIn('JP');
    await go('review/Bed%201/2026-03-02');
    const second = await browser.context.newPage();
    await go('review/Bed%201/2026-03-02', second);
    await signIn('LW', second);
    await second.getByRole('button', { name: 'Take over here' }).click();
    // Both have the slip out that strikes the first entry of the day.
    for (const [one, reason] of [
      [page, 'wrong bed'],
      [second, 'poured twice'],
    ] as const) {
      await one
        .getByRole('button', { name: /100 mL/ })
        .first()
        .click();
      await one.getByRole('button', { name: /^Strike out/ }).click();
      await one.getByLabel('Reason').fill(reason);
    }
    await second.getByRole('button', { name: 'Strike it out' }).click();
    await second.getByText(/^Struck out: Bed 1, 100 mL/).waitFor();
    await page.getByRole('button', { name: 'Take over here' }).click();
    await page.getByRole('button', { name: 'Strike it out' }).click();
    const told = page.getByText(/Not done: Bed 1, 100 mL.*\(LW, \d{4}\) decided first/);
    await told.waitFor();
    await page.getByRole('button', { name: /^History/ }).click();
    await page.getByText('Reason: poured twice').waitFor();
    await page.getByText('Not taken').waitFor();
  });
});
