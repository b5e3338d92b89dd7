import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';

describe('When the app is opened', () => {
  const home = inject('baseUrl');
  let browser: OpenBrowser;

  beforeEach(async () => {
    browser = await openBrowser();
    await browser.page.goto(home, { waitUntil: 'networkidle' });
    await browser.page.getByRole('heading', { level: 1 }).waitFor();
  });

  afterEach(() => browser.close());

  it('names itself', async () => {
    expect(await browser.page.title()).toContain('Gloveside');
    expect(await browser.page.getByRole('heading', { level: 1 }).count()).toBe(1);
  });

  it('logs no error', () => {
    expect(browser.errors).toEqual([]);
  });

  it('comes in few pieces: each of its own scripts is one more wait before the ear', () => {
    const scripts = browser.requests.filter(
      ({ url, kind }) => kind === 'script' && url.endsWith('.js'),
    );
    // Page, first picture, desk, the ear's worker, and the service worker that keeps them.
    expect(scripts.length).toBeGreaterThanOrEqual(3);
    expect(scripts.length).toBeLessThanOrEqual(8);
  });

  it('asks nothing of another origin', () => {
    expect(browser.requests.length).toBeGreaterThan(1);
    expect(browser.leaving(home)).toEqual([]);
  });
});
