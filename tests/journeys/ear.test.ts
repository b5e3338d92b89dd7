import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createServer, type ViteDevServer } from 'vite';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { say, saveWave } from '../support/flite.ts';
import { pad } from '../support/noise.ts';

const root = resolve(import.meta.dirname, '../..');

const jsgf = `#JSGF V1.0;
grammar lines;
public <line> = [three | four | nine] hundred [twenty five | fifty | seventy five] [milliliters];`;

describe('When the bundled ear listens in a browser', () => {
  let server: ViteDevServer;
  let home: string;
  let folder: string;
  let browser: OpenBrowser | undefined;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'gloveside-ear-'));
    server = await createServer({
      configFile: join(root, 'vite.config.ts'),
      root: join(root, 'tests/journeys/ear'),
      cacheDir: join(folder, 'cache'),
      logLevel: 'error',
      server: { port: 0, host: '127.0.0.1', hmr: false, fs: { allow: [root] } },
    });
    await server.listen();
    home = server.resolvedUrls?.local[0] ?? '';
  });

  afterEach(async () => {
    await browser?.close();
    browser = undefined;
  });

  afterAll(async () => {
    await server.close();
    await rm(folder, { recursive: true, force: true });
  });

  const openWith = async (text: string): Promise<OpenBrowser> => {
    const wav = join(folder, 'said.wav');
    saveWave(wav, pad(say(text, 'slt'), 1));
    browser = await openBrowser({ microphoneWav: wav, permissions: ['microphone'] });
    await browser.page.goto(home);
    await browser.page.waitForFunction(() => 'ear' in window);
    await browser.page.evaluate(() => window.ear.install());
    return browser;
  };

  it('takes a volume that the grammar has, with the events in their order', async () => {
    const { page, errors } = await openWith('three hundred fifty milliliters');
    expect(await page.evaluate(() => window.ear.available())).toBe('available');
    const session = await page.evaluate((grammar) => window.ear.listen(grammar), jsgf);
    expect(session.transcripts[0]).toBe('three hundred fifty milliliters');
    expect(session.events).toEqual([
      'start',
      'audiostart',
      'soundstart',
      'speechstart',
      'speechend',
      'soundend',
      'audioend',
      'result',
      'end',
    ]);
    expect(errors).toEqual([]);
  });

  it('answers talk with nomatch', async () => {
    const { page } = await openWith('I will be back in a minute with your water');
    const session = await page.evaluate((grammar) => window.ear.listen(grammar), jsgf);
    expect(session.events).toContain('nomatch');
    expect(session.transcripts).toEqual([]);
  });
});
