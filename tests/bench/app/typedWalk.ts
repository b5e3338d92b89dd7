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
  await aide.untilStep(steps[readingAt]?.call ?? '');
}

/** From the reading to the saved entry, and on to the next resident. */
export async function toEnd(aide: BedsidePage, volume: string): Promise<void> {
  await aide.type(`${volume} milliliters`);
  await aide.voice.untilSaid(new RegExp(volume), 60_000);
  await aide.type('that is correct');
  for (const { call } of steps.slice(readingAt + 1, -1)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep(words.walk.done);
  await aide.page.getByRole('button', { name: words.walk.another }).click();
}
