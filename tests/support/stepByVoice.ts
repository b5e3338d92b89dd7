import { expect } from 'vitest';
import type { BedsidePage } from './bedsidePage.ts';

/** A busy machine may lose a word; a person says it again, and so does a journey. */
const mostTries = 5;

async function sayAgainUntil(aide: BedsidePage, words: string, is: () => Promise<boolean>) {
  for (let again = 1; again < mostTries; again += 1) {
    await aide.say(words);
    const came = await expect
      .poll(is, { timeout: 10_000 })
      .toBe(true)
      .then(
        () => true,
        () => false,
      );
    if (came) return;
  }
  await aide.say(words);
  const said = aide.voice.spoken().map(({ text }) => text);
  await expect
    .poll(is, { timeout: 30_000, message: `${words}: ${said.slice(-6).join(' / ')}` })
    .toBe(true);
}

/** Go one step on by voice, for a journey that is about something else than hearing. */
export async function stepByVoice(aide: BedsidePage): Promise<void> {
  const first = await aide.step();
  await sayAgainUntil(aide, 'next', async () => (await aide.step()) !== first);
}

/** Say something until the assistant has answered. */
export async function sayUntil(aide: BedsidePage, words: string, answer: RegExp): Promise<void> {
  await aide.untilListening();
  const before = aide.voice.spoken().length;
  await sayAgainUntil(aide, words, () =>
    Promise.resolve(
      aide.voice
        .spoken()
        .slice(before)
        .some(({ text }) => answer.test(text)),
    ),
  );
}
