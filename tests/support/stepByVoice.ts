import { expect } from 'vitest';
import type { BedsidePage } from './bedsidePage.ts';

/**
 * Go one step on by voice, for a journey that is about something else than hearing.
 *
 * A busy machine may lose a word; it is then said again, as a person would, three times at most.
 */
export async function stepByVoice(aide: BedsidePage): Promise<void> {
  const first = await aide.step();
  for (let again = 0; again < 2; again += 1) {
    await aide.say('next step');
    const moved = await expect
      .poll(() => aide.step(), { timeout: 10_000 })
      .not.toBe(first)
      .then(
        () => true,
        () => false,
      );
    if (moved) return;
  }
  await aide.say('next step');
  await expect.poll(() => aide.step(), { timeout: 30_000 }).not.toBe(first);
}
