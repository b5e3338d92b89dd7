import type { Page } from 'playwright-core';

/** What the page notes of itself, ms since its navigation began. */
export interface Noted {
  /** The ear's worker has its programs and its model. */
  readonly ready: number | null;
  /** The beds stand there to be chosen. */
  readonly beds: number | null;
  /** The last caption that the assistant put up: what it says, and when. */
  readonly caption: { readonly text: string; readonly at: number } | null;
}

interface NotingWindow extends Window {
  noted: { -readonly [Name in keyof Noted]: Noted[Name] };
}

/** Slow the page's own thread down; workers keep this machine's speed, as Chromium slows no worker. */
export async function slowDown(page: Page, rate: number): Promise<void> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate });
}

/** What the page says on its console once the ear is ready and the beds stand there. */
const opened = 'bench: opened';

/**
 * Open an address, and wait till the ear is ready and the beds stand there. The page itself says so: a
 * question from outside brings a program with it that a slowed page reads for 0.3 s, just when it opens.
 */
export async function openAll(page: Page, address: string): Promise<void> {
  const all = page.waitForEvent('console', {
    predicate: (message) => message.text() === opened,
    timeout: 120_000,
  });
  await page.goto(address, { waitUntil: 'commit' });
  await all;
}

/** Let the page note when its ear is ready and when the assistant speaks. Before it is opened. */
export async function noteInPage(page: Page): Promise<void> {
  await page.addInitScript((word) => {
    const noted: NotingWindow['noted'] = { ready: null, beds: null, caption: null };
    Object.assign(window, { noted });
    const Real = Worker;
    window.Worker = class extends Real {
      constructor(address: string | URL, options?: WorkerOptions) {
        super(address, options);
        this.addEventListener('message', ({ data }: MessageEvent<{ type?: string } | null>) => {
          if (data?.type !== 'ready' || noted.ready !== null) return;
          noted.ready = performance.now();
          if (noted.beds !== null) console.info(word);
        });
      }
    };
    new MutationObserver(() => {
      if (noted.beds === null && document.querySelector('input[name=bed]')) {
        noted.beds = performance.now();
        if (noted.ready !== null) console.info(word);
      }
      const text = document.querySelector('.caption')?.textContent ?? '';
      if (text !== '' && text !== noted.caption?.text) {
        noted.caption = { text, at: performance.now() };
      }
    }).observe(document, { subtree: true, childList: true, characterData: true });
  }, opened);
}

export const notedIn = (page: Page): Promise<Noted> =>
  page.evaluate(() => (window as unknown as NotingWindow).noted);

/** When the browser first painted content, ms since the navigation began. */
export const firstPaint = (page: Page): Promise<number> =>
  page.evaluate(
    () =>
      new Promise<number>((done) => {
        new PerformanceObserver((list) => {
          const paint = list.getEntriesByName('first-contentful-paint')[0];
          if (paint !== undefined) done(paint.startTime);
        }).observe({ type: 'paint', buffered: true });
      }),
  );
