import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createServer } from 'vite';
import type { Ward } from '../long/ward/page.ts';
import { openBrowser, type OpenBrowser } from './browser.ts';

declare global {
  interface Window {
    ward: Ward;
  }
}

/** The ward of the long tests: desks, machines and stores of the app, with no screen before them. */
export interface WardPage {
  /** Open a browser on it, with this profile or a fresh one. */
  open(profile?: string): Promise<OpenBrowser>;
  close(): Promise<void>;
}

const root = resolve(import.meta.dirname, '../..');

export async function serveWard(): Promise<WardPage> {
  const scratch = await mkdtemp(join(tmpdir(), 'gloveside-ward-'));
  const server = await createServer({
    configFile: join(root, 'vite.config.ts'),
    root: join(root, 'tests/long/ward'),
    cacheDir: join(scratch, 'cache'),
    logLevel: 'error',
    server: { port: 0, host: '127.0.0.1', hmr: false, fs: { allow: [root] } },
  });
  await server.listen();
  const home = server.resolvedUrls?.local[0] ?? '';
  return {
    open: async (profile) => {
      const flags = ['--enable-precise-memory-info', '--js-flags=--expose-gc'];
      const browser = await openBrowser({ flags, ...(profile !== undefined && { profile }) });
      await browser.page.goto(home);
      await browser.page.waitForFunction('"ward" in globalThis');
      return browser;
    },
    close: async () => {
      await server.close();
      await rm(scratch, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
