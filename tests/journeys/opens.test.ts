import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';

describe('When the app is opened', () => {
  const home = inject('baseUrl');
  let browser: OpenBrowser;

  beforeEach(async () => {
    browser = await openBrowser();
    await browser.page.goto(home, { waitUntil: 'networkidle' });
  });

  afterEach(() => browser.close());

  it('names itself', async () => {
    expect(await browser.page.title()).toContain('Gloveside');
    expect(await browser.page.getByRole('heading', { level: 1 }).count()).toBe(1);
  });

  it('logs no error', () => {
    expect(browser.errors).toEqual([]);
  });

  it('asks nothing of another origin', () => {
    expect(browser.requests.length).toBeGreaterThan(1);
    expect(browser.leaving(home)).toEqual([]);
  });
});
