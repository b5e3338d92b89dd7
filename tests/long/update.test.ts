import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { bedside as bedsideWords } from '../../src/words/en-US/bedside.ts';
import { lock } from '../../src/words/en-US/lock.ts';
import { offline as words } from '../../src/words/en-US/offline.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { filesOfBuild, keptPaths, untilKept } from '../support/keptApp.ts';
import { buildNextVersion, nextName } from '../support/nextVersion.ts';
import { serve, type Build, type Server } from '../support/server.ts';

const { steps } = drainageBag;
/** A new version reloads the page, which a busy machine does in its own time. */
const patience = { timeout: 30_000 };

const readingAt = steps.findIndex(({ kind }) => kind === 'reading');

let next: Build;
let server: Server;
let browser: OpenBrowser;
let files: string[];

beforeAll(async () => {
  next = await buildNextVersion();
});

afterAll(() => next.remove());

beforeEach(async () => {
  files = await filesOfBuild(inject('dist'));
  server = await serve(inject('dist'));
  browser = await openBrowser();
  await browser.page.goto(server.url);
  await untilKept(browser.page, files.length);
});

afterEach(async () => {
  await browser.close();
  await server.close();
});

/** The unit's server gets the next version, and the page looks for it as it does every hour. */
async function deploy(page: Page): Promise<void> {
  const port = Number(new URL(server.url).port);
  await server.close();
  server = await serve(next.folder, port);
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    await registration?.update();
  });
}

/** The scripts that the page runs; their names have the hash of their content. */
const scriptsOf = (page: Page) =>
  page.evaluate(() =>
    Array.from(document.querySelectorAll('script[type=module]'), (each) =>
      each.getAttribute('src'),
    ),
  );

const name = (page: Page) => page.locator('header .name');

async function walkToReading(aide: BedsidePage): Promise<void> {
  await aide.begin();
  for (const { call } of steps.slice(0, readingAt)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep(steps[readingAt]?.call ?? '');
}

async function walkToEnd(aide: BedsidePage): Promise<void> {
  await aide.type('three hundred seventy five milliliters');
  await aide.voice.untilSaid(/three hundred seventy five/);
  await aide.type('that is correct');
  for (const { call } of steps.slice(readingAt + 1, -1)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep(bedsideWords.walk.done);
}

describe('When a new version comes in the middle of a walk', () => {
  it('waits, says so, takes over when asked after the walk, and keeps the record', async () => {
    const { page } = browser;
    const aide = await BedsidePage.open(browser, server.url);
    const old = await scriptsOf(page);
    await walkToReading(aide);
    await deploy(page);
    await page.getByText(words.renewal.walking).waitFor();
    expect(await page.getByRole('button', { name: words.apply }).count()).toBe(0);

    // Even asked outright, it does not take a walking page over.
    const answer = await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.getRegistration();
      const { port1, port2 } = new MessageChannel();
      registration?.waiting?.postMessage({ type: 'take over' }, [port2]);
      return new Promise((done) => {
        port1.onmessage = ({ data }) => done(data);
      });
    });
    expect(answer).toBe('busy');
    expect(await scriptsOf(page)).toEqual(old);

    await walkToEnd(aide);
    await page.getByRole('button', { name: bedsideWords.walk.another }).click();
    expect(await name(page).innerText()).toBe('Gloveside');
    const before = await aide.events();
    expect(before.map(({ type }) => type)).toContain('entry.drafted');

    await page.getByText(words.renewal.waiting).waitFor();
    await page.getByRole('button', { name: words.apply }).click();
    await expect.poll(() => name(page).innerText(), patience).toBe(nextName);
    expect(await scriptsOf(page)).not.toEqual(old);
    expect(await aide.events()).toEqual(before);
    expect(browser.errors).toEqual([]);
  }, 240_000);

  it('stays the old one over a reload, and the walk goes on where it was', async () => {
    const { page } = browser;
    const aide = await BedsidePage.open(browser, server.url);
    const old = await scriptsOf(page);
    await walkToReading(aide);
    await deploy(page);
    await page.getByText(words.renewal.walking).waitFor();
    await page.reload();
    await page.getByRole('button', { name: bedsideWords.choose.goOn }).click();
    expect(await scriptsOf(page)).toEqual(old);
    await aide.untilStep(steps[readingAt]?.call ?? '');
    await walkToEnd(aide);
  }, 240_000);
});

describe('When a new version comes while nobody walks', () => {
  it('is refused while another window is in a walk', async () => {
    const { page } = browser;
    const other = await browser.context.newPage();
    const aide = await BedsidePage.open({ ...browser, page: other }, server.url);
    await other.getByRole('button', { name: lock.follower.takeOver }).click();
    await aide.begin();
    await aide.untilListening();
    await deploy(page);
    await page.getByRole('button', { name: words.apply }).click();
    await page.getByText(words.renewal.refused).waitFor();
    expect(await name(page).innerText()).toBe('Gloveside');
  });

  it('tells the other window, whose own files stay until it is opened anew', async () => {
    const { page } = browser;
    const other = await browser.context.newPage();
    await other.goto(server.url);
    await name(other).waitFor(); // a window that has not opened its record yet can not be asked
    const old = await scriptsOf(other);
    await deploy(page);
    await page.getByRole('button', { name: words.apply }).click();
    await expect.poll(() => name(page).innerText(), patience).toBe(nextName);
    await other.getByText(words.renewal.elsewhere).waitFor();
    expect(await scriptsOf(other)).toEqual(old);
    const kept = await keptPaths(page);
    expect(old.length).toBeGreaterThan(1);
    for (const script of old) expect(kept).toContain(script?.replace(/^\//, ''));
    await other.getByRole('button', { name: words.apply }).click();
    await expect.poll(() => name(other).innerText(), patience).toBe(nextName);
  });

  it('is there at the next start, with no server, and has fetched only what changed', async () => {
    const { page } = browser;
    const asked: string[] = [];
    browser.context.on('request', (request) => {
      if (request.serviceWorker()) asked.push(new URL(request.url()).pathname);
    });
    await deploy(page);
    await page.getByText(words.renewal.waiting).waitFor();
    expect(asked.length).toBeGreaterThan(0);
    expect(asked.filter((path) => /\.(wasm|bin|png)$/.test(path))).toEqual([]);
    await server.close();

    // Closing the last page ends the old version; the browser itself needs one to stay open.
    const blank = await browser.context.newPage();
    await page.close();
    // The browser ends the old version a moment after its last page.
    const startAgain = async () => {
      await blank.goto('about:blank');
      await blank.goto(server.url);
      return name(blank).innerText();
    };
    await expect.poll(startAgain, patience).toBe(nextName);
    const now = await filesOfBuild(next.folder);
    await expect.poll(() => keptPaths(blank), patience).toEqual(now.sort());
  });
});
