import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  chromium,
  type BrowserContext,
  type BrowserContextOptions,
  type CDPSession,
  type Page,
} from 'playwright-core';
import { findBrowser } from './findBrowser.ts';

/** How a journey's browser is opened. Everything has a default. */
export interface BrowserOptions {
  /** A WAV file that Chromium's own fake microphone plays once for every time it is opened. */
  readonly microphoneWav?: string;
  /** Such as `['microphone', 'screen-wake-lock']`; nothing is granted otherwise. */
  readonly permissions?: readonly string[];
  /** A profile to keep, for a journey that kills the browser and opens it again. */
  readonly profile?: string;
  /** The time the page's clock starts at; it then moves by `page.clock` only. */
  readonly clock?: string | Date;
  /** Screen, colour scheme, locale, time zone and the like. */
  readonly context?: BrowserContextOptions;
  readonly flags?: readonly string[];
}

/** One request that any page or worker of the browser made. */
export interface Requested {
  readonly url: string;
  readonly method: string;
  readonly kind: string;
}

/** A browser with one page, and what happened in it. */
export interface OpenBrowser {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly requests: readonly Requested[];
  /** Uncaught errors, `console.error` and crashed pages. */
  readonly errors: readonly string[];
  /** Requests of other origins than this one; web sockets count, `blob:` and `data:` do not. */
  leaving(origin: string): Requested[];
  /** End the browser the way a flat battery does. */
  kill(): Promise<void>;
  close(): Promise<void>;
}

/** Nothing but this machine can be reached, so a stray request is recorded and goes nowhere. */
const flags = [
  '--headless=new',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost',
];

/**
 * Open a browser with a fresh profile, or with the one named.
 *
 * Close it in `afterEach` or `finally`; both ways of ending may be called more than once.
 */
export async function openBrowser(options: BrowserOptions = {}): Promise<OpenBrowser> {
  const profile = options.profile ?? (await mkdtemp(join(tmpdir(), 'gloveside-profile-')));
  const removeProfile = async () => {
    if (options.profile === undefined)
      await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  };
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: findBrowser(),
    headless: true,
    args: [...flags, ...microphoneFlags(options.microphoneWav), ...(options.flags ?? [])],
    locale: 'en-US',
    ...options.context,
    ...(options.permissions && { permissions: [...options.permissions] }),
  });

  const requests: Requested[] = [];
  const errors: string[] = [];
  watch(context, requests, errors);
  // A script run by tsx marks each function's name by a helper, which the page has to have too.
  await context.addInitScript('globalThis.__name ??= (named) => named;');
  if (options.clock !== undefined) await context.clock.install({ time: options.clock });
  const page = context.pages()[0] ?? (await context.newPage());

  let ended = false;
  const end = async (how: () => Promise<unknown>) => {
    if (ended) return;
    ended = true;
    await how();
    await removeProfile();
  };
  return {
    page,
    context,
    requests,
    errors,
    leaving: (origin) => requests.filter(({ url }) => leaves(url, new URL(origin))),
    kill: () =>
      end(async () => {
        const gone = new Promise((done) => context.once('close', done));
        const ids = await processIds(context);
        // All at once, as with the power: a helper that outlives the rest would still write to the
        // disk while the next browser reads it.
        for (const id of ids) endNow(id);
        await gone;
        await untilEnded(ids);
      }),
    close: () => end(() => context.close()),
  };
}

function microphoneFlags(wav: string | undefined): string[] {
  if (wav === undefined) return [];
  // Chromium itself plays silence for a missing file and says nothing.
  if (!existsSync(wav)) throw new Error(`no_wav: there is no ${wav}`);
  return [
    '--use-fake-device-for-media-stream',
    '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-audio-capture=${wav}%noloop`,
  ];
}

function watch(context: BrowserContext, requests: Requested[], errors: string[]): void {
  context.on('request', (request) => {
    requests.push({ url: request.url(), method: request.method(), kind: request.resourceType() });
  });
  context.on('weberror', (webError) => {
    errors.push(String(webError.error()));
  });
  context.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  const watchPage = (page: Page) => {
    page.on('websocket', (socket) => {
      requests.push({ url: socket.url(), method: 'GET', kind: 'websocket' });
    });
    page.on('crash', () => {
      errors.push(`page crashed: ${page.url()}`);
    });
  };
  context.pages().forEach(watchPage);
  context.on('page', watchPage);
}

function leaves(url: string, home: URL): boolean {
  const { protocol, host } = new URL(url);
  if (['data:', 'blob:', 'about:'].includes(protocol)) return false;
  return host !== home.host || ![home.protocol, 'ws:'].includes(protocol);
}

/** The browser itself first, then its helpers. */
async function processIds(context: BrowserContext): Promise<number[]> {
  const browser = context.browser();
  if (browser === null) throw new Error('no_browser: the context has no browser behind it');
  const session: CDPSession = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  const main = processInfo.find(({ type }) => type === 'browser');
  if (main === undefined) throw new Error('no_process: the browser does not tell its process');
  return [main.id, ...processInfo.filter((each) => each !== main).map(({ id }) => id)];
}

function endNow(id: number): void {
  try {
    process.kill(id, 'SIGKILL');
  } catch {
    // It went with the one before it.
  }
}

async function untilEnded(ids: readonly number[]): Promise<void> {
  const isThere = (id: number) => {
    try {
      return process.kill(id, 0);
    } catch {
      return false;
    }
  };
  for (let looks = 0; ids.some(isThere) && looks < 500; looks++)
    await new Promise((done) => setTimeout(done, 10));
}
