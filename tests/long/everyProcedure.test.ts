import { afterEach, describe, expect, inject, test } from 'vitest';
import type { EventOf } from '../../src/charting/events.ts';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';

let browser: OpenBrowser | undefined;

afterEach(async () => {
  await browser?.close();
  browser = undefined;
});

/** What is said where the amount is got, each with what the assistant then says. */
const said: Readonly<Record<string, readonly (readonly [string, RegExp])[]>> = {
  reading: [
    ['two hundred', /two hundred/],
    ['correct', /kept/],
  ],
  weigh: [
    ['four hundred twelve grams', /four, one, two/],
    ['correct', /kept/],
  ],
  count: [['correct', /One episode, counted/]],
  intake: [
    ['juice, half', /sixty millilitres\. Correct/],
    ['correct', /kept\. Next drink/],
    ['coffee, one hundred left', /one hundred forty millilitres\. Correct/],
    ['correct', /kept\. Next drink/],
    ["that's all", /All together/],
    ['correct', /estimated, kept/],
  ],
};

describe('When a whole round is done at one bed after the other', () => {
  test('all nine procedures are walked by typed words, each with its entry', async () => {
    browser = await openBrowser();
    const aide = await BedsidePage.open(browser, inject('baseUrl'), {
      voice: { msPerCharacter: 1 },
    });
    for (const [index, { title, steps }] of builtIn.entries()) {
      // Six beds: none comes twice for one kind of fluid, which would be asked about.
      await aide.begin(`Bed ${(index % 6) + 1}`, title);
      for (const { kind, call } of steps) {
        if (kind === 'document') break;
        await aide.untilStep(call);
        for (const [words, answer] of said[kind] ?? []) {
          await aide.type(words);
          await aide.voice.untilSaid(answer);
        }
        if (said[kind] === undefined) await aide.type('next');
      }
      await aide.untilStep('The entry waits for review.');
      await aide.page.getByRole('button', { name: 'Next resident' }).click();
    }
    const drafts = (await aide.events()).filter(
      (event): event is EventOf<'entry.drafted'> => event.type === 'entry.drafted',
    );
    expect(new Set(drafts.map(({ procedure }) => procedure))).toEqual(
      new Set(builtIn.map(({ id }) => id)),
    );
    const amounts = (id: string) =>
      drafts.filter(({ procedure }) => procedure === id).map(({ amount }) => amount);
    expect(amounts('weighed-pad')).toMatchObject([{ method: 'measured' }]);
    expect(amounts('unmeasured-episode')).toEqual([{ method: 'unmeasured', count: 1 }]);
    expect(amounts('oral-intake')).toEqual([
      { method: 'measured', mL: 140, fills: [140] },
      { method: 'estimated', mL: 60, fills: [60] },
    ]);
    expect(drafts).toHaveLength(10);
    expect(browser.errors).toEqual([]);
    expect(browser.leaving(inject('baseUrl'))).toEqual([]);
  }, 400_000);
});
