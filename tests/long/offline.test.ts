import { cp, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Response } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { offline as words } from '../../src/words/en-US/offline.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { filesOfBuild, keptPaths, untilKept } from '../support/keptApp.ts';
import { serve, type Server } from '../support/server.ts';
import { stepByVoice } from '../support/stepByVoice.ts';

let server: Server;
let browser: OpenBrowser;
let files: string[];

beforeEach(async () => {
  files = await filesOfBuild(inject('dist'));
  server = await serve(inject('dist'));
  browser = await openBrowser();
});

afterEach(async () => {
  await browser.close();
  await server.close();
});

/** One visit, and then no server any more. */
async function visitOnce(): Promise<void> {
  await browser.page.goto(server.url);
  await untilKept(browser.page, files.length);
  await server.close();
  await expect(fetch(server.url)).rejects.toThrow('fetch failed');
}

describe('When the server is gone after the first visit', () => {
  it('has every file of the build on the device', async () => {
    await visitOnce();
    expect(await keptPaths(browser.page)).toEqual(files.sort());
  });

  it.each(['', '#/review', 'sheet/of/today', 'index.html#/unit'])(
    'opens the app at /%s, with all its headers',
    async (path) => {
      await visitOnce();
      const page = await browser.context.newPage();
      const answers: Response[] = [];
      page.on('response', (response) => answers.push(response));
      const opened = await page.goto(server.url + path);
      await page.locator('nav').waitFor();
      expect(await page.title()).toContain('Gloveside');
      expect(opened?.headers()['content-security-policy']).toContain("default-src 'none'");
      expect(answers.length).toBeGreaterThan(2);
      expect(answers.filter((answer) => !answer.fromServiceWorker())).toEqual([]);
      expect(browser.errors).toEqual([]);
    },
  );

  it('hears a step called, with worker, worklet, program and model from the device', async () => {
    await visitOnce();
    const aide = await BedsidePage.open(browser, server.url);
    await aide.begin();
    await stepByVoice(aide);
    expect(browser.errors).toEqual([]);
    expect(browser.leaving(server.url)).toEqual([]);
  });

  it('speaks with the bundled voice where the system has none', async () => {
    await visitOnce();
    const fetched: string[] = [];
    browser.page.on('response', (response) => {
      if (response.ok()) fetched.push(response.url());
    });
    const aide = await BedsidePage.open(browser, server.url, { voice: { voices: 'none' } });
    await aide.begin();
    await aide.untilListening();
    expect(fetched.filter((url) => /\/flite-[^/]*\.wasm$/.test(url))).not.toEqual([]);
    expect(browser.errors).toEqual([]);
  });
});

describe('When a file is not what its build said', () => {
  it('replaces a copy that the disk has spoilt, at the next start', async () => {
    const { page } = browser;
    await page.goto(server.url);
    await untilKept(page, files.length);
    const spoil = (path: RegExp) =>
      page.evaluate(async (pattern) => {
        const cache = await caches.open('gloveside-files');
        for (const { url } of await cache.keys()) {
          if (new RegExp(pattern).test(url)) await cache.put(url, new Response('spoilt'));
        }
      }, path.source);
    const sizes = () =>
      page.evaluate(async () => {
        const cache = await caches.open('gloveside-files');
        const all = await cache.matchAll();
        const bodies = await Promise.all(all.map((one) => one.arrayBuffer()));
        return bodies.filter(({ byteLength }) => byteLength === 6).length;
      });
    await spoil(/\/(mdef|means)-/);
    expect(await sizes()).toBe(2);
    await page.reload();
    await expect.poll(sizes, { timeout: 30_000 }).toBe(0);
  });

  it('keeps nothing of a server whose model is damaged, says so, and works on', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'gloveside-damaged-'));
    try {
      await cp(inject('dist'), folder, { recursive: true });
      const model = (await readdir(join(folder, 'assets'))).find((name) =>
        name.startsWith('noisedict'),
      );
      const file = join(folder, 'assets', model ?? 'none');
      await writeFile(file, `${await readFile(file, 'utf8')}\n`);
      await server.close();
      server = await serve(folder);
      await browser.page.goto(server.url);
      await browser.page.getByText(words.notKept).waitFor();
      expect(await browser.page.getByRole('heading', { level: 1 }).count()).toBe(1);
      expect((await keptPaths(browser.page)).filter((path) => path.includes('noisedict'))).toEqual(
        [],
      );
      const registered = await browser.page.evaluate(async () => {
        const registration = await navigator.serviceWorker.getRegistration();
        return registration?.active ?? null;
      });
      expect(registered).toBeNull();
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });
});

describe('When the browser is asked whether the app can be installed', () => {
  it('finds nothing in the way', async () => {
    await browser.page.goto(server.url);
    const session = await browser.context.newCDPSession(browser.page);
    const { errors } = await session.send('Page.getAppManifest');
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    expect(errors).toEqual([]);
    expect(installabilityErrors).toEqual([]);
  });
});
