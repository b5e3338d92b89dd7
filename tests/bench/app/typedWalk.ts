import urinal from '../../../src/procedures/en-US/urinal.json' with { type: 'json' };
import { bedside as words } from '../../../src/words/en-US/bedside.ts';
import type { BedsidePage } from '../../support/bedsidePage.ts';

const { steps, title } = urinal;
const readingAt = steps.findIndex(({ kind }) => kind === 'reading');

/** Begin at the urinal and go to where the volume is read. */
export async function toReading(aide: BedsidePage): Promise<void> {
  await aide.begin('Bed 4', title);
  for (const { call } of steps.slice(0, readingAt)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  const call = steps[readingAt]?.call ?? '';
  await aide.untilStep(call);
  // The step stands on the screen before it is said, and what is said over the assistant is lost.
  await aide.voice.untilSaid(new RegExp(call), 60_000);
}

/** Give a volume at the reading, and wait until it is read back. */
export async function readBack(aide: BedsidePage, volume: string): Promise<void> {
  const isRead = new RegExp(`${volume}.*correct`, 'i');
  await aide.type(`${volume} milliliters`);
  const { text } = await aide.voice.untilSaid(
    new RegExp(`${isRead.source}|new emptying`, 'i'),
    60_000,
  );
  if (isRead.test(text)) return;
  // The same volume was charted a moment ago: it is to be said once more.
  await aide.type(`${volume} milliliters`);
  await aide.voice.untilSaid(isRead, 60_000);
}

/** From the read-back to the saved entry, and on to the next resident. */
export async function toEnd(aide: BedsidePage): Promise<void> {
  await aide.type('that is correct');
  for (const { call } of steps.slice(readingAt + 1, -1)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep(words.walk.done);
  await aide.page.getByRole('button', { name: words.walk.another }).click();
}
