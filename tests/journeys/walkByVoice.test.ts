import { afterEach, describe, expect, inject, test } from 'vitest';
import type { EventOf } from '../../src/charting/events.ts';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';

const { steps } = drainageBag;
const readingAt = steps.findIndex(({ kind }) => kind === 'reading');

let browser: OpenBrowser | undefined;

afterEach(async () => {
  await browser?.close();
  browser = undefined;
});

async function bedside(): Promise<BedsidePage> {
  browser = await openBrowser();
  return BedsidePage.open(browser, inject('baseUrl'));
}

const draftsOf = async (aide: BedsidePage) =>
  (await aide.events()).filter(
    (event): event is EventOf<'entry.drafted'> => event.type === 'entry.drafted',
  );

/** Go to the reading step by typing: the ear has its own journeys. */
async function typeToReading(aide: BedsidePage): Promise<void> {
  for (let step = 0; step < readingAt; step++) {
    await aide.untilStep(steps[step]?.call ?? '');
    await aide.type('next');
  }
  await aide.untilStep(steps[readingAt]?.call ?? '');
}

describe('When an aide empties a bag by voice alone', () => {
  test('every word goes in by the microphone, and the entry waits with the right number', async () => {
    const aide = await bedside();
    await aide.begin();
    await aide.forgetTouches();
    for (let step = 0; step < readingAt; step++) {
      await aide.untilStep(steps[step]?.call ?? '');
      await aide.say('next');
    }
    await aide.untilStep(steps[readingAt]?.call ?? '');
    const before = Date.now();
    await aide.say('three hundred seventy five milliliters');
    await aide.voice.untilSaid(/three hundred seventy five/);
    const after = Date.now();
    await aide.say('correct');
    await aide.voice.untilSaid(/three hundred seventy five milliliters, kept/);
    for (let step = readingAt + 1; step < steps.length - 1; step++) {
      await aide.untilStep(steps[step]?.call ?? '');
      await aide.say('next');
    }
    await aide.untilStep('The entry waits for review.');
    expect(await aide.touches()).toEqual([]);

    const drafts = await draftsOf(aide);
    expect(drafts).toHaveLength(1);
    expect(drafts[0]).toMatchObject({
      bed: 'Bed 4',
      kind: 'urineCatheter',
      amount: { method: 'measured', mL: 375, fills: [375] },
      reader: 'MK',
      procedure: 'drainage-bag',
    });
    const readAt = drafts[0]?.readAt;
    expect(readAt?.ms).toBeGreaterThan(before);
    expect(readAt?.ms).toBeLessThan(after);
    expect(readAt?.offset).toBe(0 - new Date(readAt?.ms ?? 0).getTimezoneOffset());
    expect(drafts[0]?.evidence?.heard[0]).toMatchObject({ ear: 'bundled', made: 375 });
    expect(browser?.leaving(inject('baseUrl'))).toEqual([]);
    expect(browser?.errors).toEqual([]);
  }, 300_000);
});

describe('When the resident is talked with', () => {
  const talk = [
    'yes',
    'okay',
    'give me two minutes dear',
    'did you sleep well last night',
    'i will be back at four',
    'your daughter comes at three fifteen',
  ];

  test('nothing moves at a step, and nothing is taken at the reading or the read-back', async () => {
    const aide = await bedside();
    await aide.begin();
    const first = steps[0]?.call ?? '';
    await aide.untilStep(first);
    for (const words of talk) await aide.say(words, 'rms');
    await aide.untilListening();
    expect(await aide.step()).toBe(first);

    await typeToReading(aide);
    await aide.untilListening();
    for (const words of talk) await aide.say(words, 'rms');
    await aide.untilListening();
    expect(await aide.step()).toBe(steps[readingAt]?.call);
    expect(aide.voice.spoken().some(({ text }) => text.includes('kept'))).toBe(false);

    await aide.type('four hundred');
    await aide.voice.untilSaid(/four hundred milliliters/);
    for (const words of talk.slice(0, 3)) await aide.say(words, 'rms');
    await aide.untilListening();
    expect(aide.voice.spoken().some(({ text }) => text.includes('kept'))).toBe(false);
    expect(await draftsOf(aide)).toEqual([]);
  }, 300_000);
});

describe('When the page is reloaded in the middle', () => {
  test('a number read back and not yet agreed to is there again, and one kept stays kept', async () => {
    const aide = await bedside();
    await aide.begin();
    await typeToReading(aide);
    await aide.type('four hundred');
    await aide.voice.untilSaid(/four hundred milliliters/);
    await aide.untilListening();

    await aide.load();
    await aide.page.getByRole('button', { name: 'Go on where it was' }).click();
    await aide.untilStep(steps[readingAt]?.call ?? '');
    await aide.page.getByText('400 mL', { exact: true }).first().waitFor();
    await aide.type('correct');
    await aide.untilStep(steps[readingAt + 1]?.call ?? '');

    await aide.load();
    await aide.page.getByRole('button', { name: 'Go on where it was' }).click();
    await aide.untilStep(steps[readingAt + 1]?.call ?? '');
    await aide.page.getByText('Kept', { exact: true }).waitFor();
    await aide.type('what was the number');
    await aide.voice.untilSaid(/You read four hundred milliliters/);
    for (let step = readingAt + 1; step < steps.length - 1; step++) {
      await aide.untilStep(steps[step]?.call ?? '');
      await aide.type('next');
    }
    await aide.untilStep('The entry waits for review.');
    expect(await draftsOf(aide)).toMatchObject([{ amount: { mL: 400 } }]);
  }, 120_000);
});
