import { afterEach, beforeEach, describe, expect, inject, test } from 'vitest';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { bedside } from '../../src/words/en-US/bedside.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { Keyboard } from '../support/byKeyboard.ts';

const { choose, walk } = bedside;
let browser: OpenBrowser;

beforeEach(async () => {
  browser = await openBrowser();
});

afterEach(() => browser.close());

describe('When somebody has a keyboard and nothing else', () => {
  test('a walk is made from choosing to the entry, and a nurse confirms it', async () => {
    const aide = await BedsidePage.open(browser, inject('baseUrl'));
    const { page } = aide;
    const keyboard = new Keyboard(page);
    await keyboard.choose(/^Bed 1$/, 'Bed 4');
    await keyboard.choose(/^(Empty|Help|Give|Weigh|Count|Measure)/, drainageBag.title);
    await keyboard.press(choose.begin);

    // The first step by its button, the others by words that are typed.
    await aide.untilListening();
    await keyboard.press(walk.buttons.next);
    for (const { call, kind } of drainageBag.steps.slice(1, -1)) {
      await aide.untilStep(call);
      await aide.untilListening();
      await keyboard.to(walk.typed);
      if (kind === 'reading') {
        await keyboard.write('four hundred');
        await aide.voice.untilSaid(/four hundred milliliters/);
        await aide.untilListening();
        await keyboard.write('correct');
      } else await keyboard.write('next');
    }
    await page.getByRole('heading', { level: 1, name: walk.done }).waitFor();
    await keyboard.press(walk.toReview);

    await page.getByText('400 mL').first().waitFor();
    await keyboard.to(/JP/);
    await page.keyboard.type('JP');
    await keyboard.press(/^Confirm/);
    await page.getByText(/^Confirmed: /).waitFor();
    const decided = (await aide.events()).filter(({ type }) => type === 'entry.confirmed');
    expect(decided).toMatchObject([{ by: { initials: 'JP', role: 'nurse' } }]);
    const touched = await aide.touches();
    expect(touched.filter((type) => type === 'pointerdown' || type === 'touchstart')).toEqual([]);
    expect(keyboard.stops).toBeGreaterThan(20);
    expect([...keyboard.unseen]).toEqual([]);
    expect(browser.errors).toEqual([]);
  });
});
