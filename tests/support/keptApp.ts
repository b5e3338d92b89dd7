import { readdir } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** How many files of a build are kept for the time offline: all but the service worker itself. */
export async function filesOfBuild(folder: string): Promise<string[]> {
  const found = await readdir(folder, { recursive: true, withFileTypes: true });
  return found
    .filter((entry) => entry.isFile() && entry.name !== 'service-worker.js')
    .map((entry) => `${entry.parentPath}/${entry.name}`.slice(folder.length + 1));
}

/** The paths that are kept, sorted. */
export const keptPaths = (page: Page): Promise<string[]> =>
  page.evaluate(async () => {
    const cache = await caches.open('gloveside-files');
    return (await cache.keys()).map(({ url }) => new URL(url).pathname.slice(1)).sort();
  });

/** Resolves when the page has a service worker and that one keeps this many files. */
export async function untilKept(page: Page, files: number): Promise<void> {
  const controlled = () => page.evaluate(() => navigator.serviceWorker.controller !== null);
  await expect.poll(controlled, { timeout: 90_000 }).toBe(true);
  await expect.poll(async () => (await keptPaths(page)).length, { timeout: 90_000 }).toBe(files);
}
