import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';

/** A file as a person hands it over. */
export const fileOf = (name: string, text: string) => ({
  name,
  mimeType: 'application/json',
  buffer: Buffer.from(text),
});

/** What the page gives as a file when this button is pressed. */
export async function downloaded(
  page: Page,
  button: string,
): Promise<{ name: string; text: string }> {
  const waiting = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).click();
  const download = await waiting;
  return {
    name: download.suggestedFilename(),
    text: readFileSync(await download.path(), 'utf8'),
  };
}
