import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { shell } from '../../src/words/en-US/shell.ts';
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
    // What begins the ear, page, desk, the ear's worker, and the service worker that keeps them.
    expect(scripts.length).toBeGreaterThanOrEqual(3);
    expect(scripts.length).toBeLessThanOrEqual(8);
  });

  it('asks nothing of another origin', () => {
    expect(browser.requests.length).toBeGreaterThan(1);
    expect(browser.leaving(home)).toEqual([]);
  });
});

describe('When programs of the app do not come', () => {
  const home = inject('baseUrl');
  let browser: OpenBrowser;

  beforeEach(async () => {
    browser = await openBrowser();
  });

  afterEach(() => browser.close());

  it('shows a first picture before any of them is there', async () => {
    const { page } = browser;
    await page.route('**/*.js', (route) => route.abort());
    await page.goto(home);
    await page.getByText(shell.opening).waitFor();
    expect(await page.locator('main').getAttribute('aria-busy')).toBe('true');
    expect(await page.getByText(shell.failed).isVisible()).toBe(false);
  });

  it('says so, and opens once they come', async () => {
    const { page } = browser;
    await page.route('**/start-*.js', (route) => route.abort());
    await page.goto(home);
    await page.getByText(shell.failed).waitFor();
    expect(await page.getByText(shell.opening).isVisible()).toBe(false);
    expect(await page.locator('main').getAttribute('aria-busy')).toBeNull();
    await page.unroute('**/start-*.js');
    await page.getByRole('button', { name: shell.reload }).click();
    await page.getByRole('heading', { level: 1 }).waitFor();
    expect(await page.locator('main').count()).toBe(1);
  });
});
