import type { Locator, Page } from 'playwright-core';
import { lock as words } from '../../src/words/en-US/lock.ts';

/** A button by its whole name. */
export const button = (page: Page, name: string): Locator =>
  page.getByRole('button', { name, exact: true });

/** Done when the page stands at the lock. */
export const untilLocked = (page: Page): Promise<void> =>
  page.getByRole('heading', { name: words.title }).waitFor();

/**
 * Put a lock on in the set-up; gives the recovery code.
 *
 * @param look - called at the filled form, and at the slip with the code
 */
export async function putLockOn(
  page: Page,
  home: string,
  kind: 'unit' | 'pins',
  secret: string,
  look: (state: string) => Promise<void> = () => Promise.resolve(),
): Promise<string> {
  await page.goto(`${home}#/unit`);
  await page.locator('#unit-lock > summary').click();
  const part = page.locator('#unit-lock');
  await part.getByLabel(words.part.kinds[kind]).check();
  await part.getByLabel(kind === 'pins' ? words.part.pin : words.part.passcode).fill(secret);
  await part.getByLabel(words.part.again).fill(secret);
  await look('lock: set up');
  await button(page, words.part.make).click();
  const slip = page.getByRole('group', { name: words.part.code.title });
  await slip.waitFor();
  await look('lock: recovery code');
  const groups = await slip.locator('.code span').allInnerTexts();
  await page.getByLabel(words.part.code.done).check();
  await button(page, words.part.code.seal).click();
  await untilLocked(page);
  return groups.join('-');
}

/** Initials, and the PIN on the keypad, as a thumb does it. */
export async function unlock(page: Page, who: string, pin: string): Promise<void> {
  await page.getByLabel(words.initials).fill(who);
  for (const figure of pin) await button(page, figure).click();
  await button(page, words.open).click();
}
