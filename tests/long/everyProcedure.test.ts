import { afterEach, describe, expect, inject, test } from 'vitest';
import type { EventOf } from '../../src/charting/events.ts';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { sayUntil, stepByVoice } from '../support/stepByVoice.ts';

let browser: OpenBrowser | undefined;

afterEach(async () => {
  await browser?.close();
  browser = undefined;
});

/** What is said where the amount is got, each with what the assistant then says. */
const said: Readonly<Record<string, readonly (readonly [string, RegExp])[]>> = {
  reading: [
    ['two hundred', /two hundred.*Correct/],
    ['correct', /two hundred milliliters, kept/],
  ],
  weigh: [
    ['four hundred twelve grams', /four, one, two/],
    ['correct', /kept/],
  ],
  count: [['correct', /One episode, counted/]],
  intake: [
    ['juice half', /sixty milliliters\. Correct/],
    ['correct', /kept\. Next drink/],
    ['coffee one hundred left', /one hundred forty milliliters\. Correct/],
    ['correct', /kept\. Next drink/],
    ["that's all", /All together/],
    ['correct', /estimated, kept/],
  ],
};

const amounts: Readonly<Record<string, unknown>> = {
  // The first pad of the list weighs 35 g when dry.
  'weighed-pad': [{ method: 'measured', mL: 377 }],
  'unmeasured-episode': [{ method: 'unmeasured', count: 1 }],
  'oral-intake': [
    { method: 'measured', mL: 140, fills: [140] },
    { method: 'estimated', mL: 60, fills: [60] },
  ],
};
const twoHundred = [{ method: 'measured', mL: 200, fills: [200] }];

describe.each(builtIn)('When somebody is to $title', ({ id, title, fluid, steps }) => {
  test('it is walked by voice alone, and leaves its entry', async () => {
    browser = await openBrowser();
    const aide = await BedsidePage.open(browser, inject('baseUrl'), {
      voice: { msPerCharacter: 1 },
    });
    await aide.begin('Bed 3', title);
    await aide.forgetTouches();
    for (const { kind, call } of steps) {
      if (kind === 'document') break;
      await aide.untilStep(call);
      for (const [words, answer] of said[kind] ?? []) await sayUntil(aide, words, answer);
      if (said[kind] === undefined) await stepByVoice(aide);
    }
    await aide.untilStep('The entry waits for review.');
    expect(await aide.touches()).toEqual([]);
    const drafts = (await aide.events()).filter(
      (event): event is EventOf<'entry.drafted'> => event.type === 'entry.drafted',
    );
    // Measured before estimated; the record has them in the order of their ids.
    const byMethod = drafts
      .map(({ amount }) => amount)
      .sort((one, other) => (other?.method ?? '').localeCompare(one?.method ?? ''));
    expect(byMethod).toMatchObject(amounts[id] ?? twoHundred);
    for (const draft of drafts)
      expect(draft).toMatchObject({ procedure: id, kind: fluid, bed: 'Bed 3', reader: 'MK' });
    expect(browser.errors).toEqual([]);
    expect(browser.leaving(inject('baseUrl'))).toEqual([]);
  }, 300_000);
});
