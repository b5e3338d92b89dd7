import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { securityHeaders } from '../../src/app/headers.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { filesOfBuild } from '../support/keptApp.ts';
import { stepByVoice } from '../support/stepByVoice.ts';

const home = inject('baseUrl');
const places = ['bedside', 'practice', 'review', 'sheet', 'unit'];

interface Watched extends Window {
  violations: string[];
}

/** What the page's policy refused since the page was opened. */
const violations = (browser: OpenBrowser) =>
  browser.page.evaluate(() => (window as unknown as Watched).violations);

async function watchedBrowser(): Promise<OpenBrowser> {
  const browser = await openBrowser();
  await browser.page.addInitScript(() => {
    const found: string[] = [];
    Object.assign(window, { violations: found });
    document.addEventListener('securitypolicyviolation', (event) => {
      found.push(`${event.effectiveDirective} ${event.blockedURI}`);
    });
  });
  return browser;
}

describe('When a file of the app is asked for', () => {
  it('comes with every header, whatever it is', async () => {
    const files = await filesOfBuild(inject('dist'));
    const one = (pattern: RegExp) => files.find((file) => pattern.test(file)) ?? `no ${pattern}`;
    const paths = ['', 'review/of/bed-4', 'service-worker.js', 'manifest.webmanifest'];
    for (const pattern of [/\.js$/, /\.css$/, /\.wasm$/, /\.bin$/, /\.png$/])
      paths.push(one(pattern));
    for (const path of paths) {
      const response = await fetch(home + path);
      expect(response.status, path).toBe(200);
      for (const [name, value] of Object.entries(securityHeaders)) {
        expect(response.headers.get(name), `${path} ${name}`).toBe(value);
      }
      await response.body?.cancel();
    }
  });

  it('travels compressed, the ear and its model too', async () => {
    const files = await filesOfBuild(inject('dist'));
    for (const file of files.filter((name) => /\.(js|css|wasm|bin)$/.test(name))) {
      const response = await fetch(home + file, { headers: { 'Accept-Encoding': 'gzip' } });
      const small = Number(response.headers.get('Content-Length') ?? Infinity) < 1024;
      expect(response.headers.get('Content-Encoding') ?? (small && 'small'), file).toMatch(
        /^(gzip|small)$/,
      );
      await response.body?.cancel();
    }
  });
});

describe('When the app runs under its policy', () => {
  let browser: OpenBrowser;

  beforeEach(async () => {
    browser = await watchedBrowser();
  });

  afterEach(() => browser.close());

  it.each(places)('breaks no rule at %s, and asks nothing of another origin', async (place) => {
    const { page } = browser;
    await page.goto(`${home}#/${place}`, { waitUntil: 'networkidle' });
    await page.locator('main, nav').first().waitFor();
    expect(await violations(browser)).toEqual([]);
    expect(browser.errors).toEqual([]);
    expect(browser.requests.length).toBeGreaterThan(3);
    expect(browser.leaving(home)).toEqual([]);
  });

  it('walks with the bundled ear and breaks no rule', async () => {
    const aide = await BedsidePage.open(browser, home);
    await aide.begin();
    await stepByVoice(aide);
    expect(await violations(browser)).toEqual([]);
    expect(browser.errors).toEqual([]);
    expect(browser.leaving(home)).toEqual([]);
  });

  it('has what it needs of the device, and nothing else', async () => {
    await browser.page.goto(home);
    const allowed = await browser.page.evaluate(() =>
      (
        document as unknown as { featurePolicy: { allowedFeatures(): string[] } }
      ).featurePolicy.allowedFeatures(),
    );
    // Names that begin with `ch-` are about what the browser tells a server of itself.
    expect(allowed.filter((name) => !name.startsWith('ch-')).sort()).toEqual([
      'autoplay',
      'cross-origin-isolated',
      'media-playback-while-not-visible',
      'microphone',
      'on-device-speech-recognition',
      'screen-wake-lock',
    ]);
  });

  it('is refused all that a stranger’s text could try', async () => {
    const { page } = browser;
    const answered: string[] = [];
    browser.context.on('response', (response) => {
      if (response.url().includes('elsewhere.example')) answered.push(response.url());
    });
    await page.goto(home);
    const refused = await page.evaluate(async () => {
      const names: string[] = [];
      const tried = async (name: string, run: () => unknown) => {
        try {
          await run();
        } catch {
          names.push(name);
        }
      };
      const elsewhere = 'https://elsewhere.example/';
      await tried('fetch', () => fetch(elsewhere));
      await tried('worker', () => new Worker(`${elsewhere}worker.js`));
      await tried('blob worker', () => new Worker(URL.createObjectURL(new Blob(['']))));
      await tried('markup', () => {
        document.body.innerHTML = '<b>bold</b>';
      });
      await tried('parsed', () => new DOMParser().parseFromString('<b>bold</b>', 'text/html'));
      await tried('policy', () =>
        (
          window as unknown as { trustedTypes: { createPolicy(name: string, rules: object): void } }
        ).trustedTypes.createPolicy('other', {}),
      );
      // Text in a timer is what a page must never be able to run.
      Object.assign(window, { ran: 0 });
      await tried('timer', () => (setTimeout as (text: string) => void)('window.ran = 1'));
      const picture = document.createElement('img');
      picture.src = `${elsewhere}seen.png`;
      document.body.append(picture);
      const script = document.createElement('script');
      await tried('script text', () => {
        script.textContent = 'window.ran = 2';
      });
      script.append('window.ran = 3');
      document.body.append(script);
      await tried('handler', () => document.body.setAttribute('onclick', 'window.ran = 4'));
      const styled = document.createElement('p');
      styled.setAttribute('style', 'position: fixed');
      if (styled.style.position === '') names.push('inline style');
      // Timers of one length run in their order, so the text has had its turn.
      await new Promise((done) => setTimeout(done));
      if ((window as unknown as { ran: number }).ran !== 0) names.push('RAN');
      return names;
    });
    expect(refused).toEqual(
      expect.arrayContaining([
        'fetch',
        'worker',
        'blob worker',
        'markup',
        'parsed',
        'policy',
        'script text',
        'handler',
      ]),
    );
    expect(refused).toContain('inline style');
    expect(refused).not.toContain('RAN');
    const broken = await violations(browser);
    for (const directive of ['connect-src', 'img-src', 'trusted-types']) {
      expect(broken.map((line) => line.split(' ')[0])).toContain(directive);
    }
    expect(answered).toEqual([]);
  });

  it('is put into no other page', async () => {
    const other = await browser.context.newPage();
    await other.route('http://localhost/**', (route) =>
      route.fulfill({ contentType: 'text/html', body: `<iframe src="${home}"></iframe>` }),
    );
    await other.goto('http://localhost/');
    await expect
      .poll(() => other.frames()[1]?.url(), { timeout: 30_000 })
      .toMatch(/^chrome-error:/);
  });
});
