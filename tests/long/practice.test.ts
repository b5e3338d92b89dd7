import { afterEach, describe, expect, inject, test } from 'vitest';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import type { FakeVoice } from '../support/fakeVoice.ts';

let browser: OpenBrowser | undefined;

afterEach(async () => {
  await browser?.close();
  browser = undefined;
});

async function practice(): Promise<BedsidePage> {
  browser = await openBrowser();
  const trainee = await BedsidePage.open(browser, `${inject('baseUrl')}#/practice`);
  await trainee.page.getByRole('heading', { level: 1, name: 'Practice' }).waitFor();
  return trainee;
}

const begin = async ({ page }: BedsidePage, title: string): Promise<void> => {
  await page.getByRole('radio', { name: title }).check({ force: true });
  await page.getByRole('button', { name: 'Open the ear and begin' }).click();
};

/** Say it, three times at most where a busy machine lost it, as a person would. */
async function heard(
  trainee: BedsidePage,
  words: string,
  answer: RegExp,
  tries = 3,
): ReturnType<FakeVoice['untilSaid']> {
  await trainee.say(words);
  if (tries === 1) return trainee.voice.untilSaid(answer, 30_000);
  return trainee.voice
    .untilSaid(answer, 15_000)
    .catch(() => heard(trainee, words, answer, tries - 1));
}

/** Go on by typing: the ear has its own journeys. */
async function typed(trainee: BedsidePage, words: string, answer: RegExp): Promise<void> {
  await trainee.type(words);
  await trainee.voice.untilSaid(answer);
}

const stop = async ({ page }: BedsidePage): Promise<void> => {
  await page.getByRole('button', { name: 'Stop practice' }).click();
  await page.getByText('Kept on this device, for practice only.').waitFor();
};

describe('When a trainee practises by voice', () => {
  test('a wrong order is caught, and nothing reaches the record of the unit', async () => {
    const trainee = await practice();
    await begin(trainee, 'Recall');
    await heard(trainee, 'wash my hands', /Right\. Clean your hands/);
    await heard(trainee, 'put on my gloves', /comes later\. 3 steps come before that/i);
    await heard(trainee, 'tell me', /The step is: Tell the resident/);
    await heard(trainee, 'something is wrong', /This is practice\. I told nobody/);
    await stop(trainee);
    const { page } = trainee;
    await page.getByText('1 of 24').waitFor();
    await page
      .getByText(/“Put on clean gloves\.” was said when this was due/)
      .first()
      .waitFor();
    expect(await trainee.events()).toEqual([]);

    await trainee.load();
    await page.getByRole('button', { name: 'Attempts so far' }).click();
    await page.getByRole('row', { name: /Recall: Empty a urinary drainage bag/ }).waitFor();
    expect(browser?.errors).toEqual([]);
    expect(browser?.leaving(inject('baseUrl'))).toEqual([]);
  });

  test('why is answered with its source, and a level is read aloud', async () => {
    const trainee = await practice();
    const { page } = trainee;
    await begin(trainee, 'Guided');
    await heard(trainee, 'tell me why', /Source: WHO guidelines on hand hygiene/);
    await typed(trainee, 'next', /Tell the resident/);
    await stop(trainee);
    await page.getByRole('button', { name: 'Another round' }).click();

    await page.getByRole('radio', { name: 'Reading drill' }).check({ force: true });
    await page.getByLabel(/^Seed/).fill('4711');
    await begin(trainee, 'Reading drill');
    await heard(trainee, 'one hundred fifty milliliters', /one hundred fifty/);
    // The same number again agrees, as at the bedside.
    await heard(trainee, 'one hundred fifty milliliters', /Right: one hundred fifty milliliters/);
    await typed(trainee, 'next', /Level two of six/);
    await stop(trainee);
    await page.getByText('1 of 1').waitFor();
    expect(await trainee.events()).toEqual([]);
  });
});

describe('When a trainee types and presses buttons', () => {
  test('a whole drill goes by without a word, and a walk afterwards is the first of the record', async () => {
    const trainee = await practice();
    const { page } = trainee;
    await page.getByRole('radio', { name: 'Reading drill' }).check({ force: true });
    await page.getByLabel(/^Seed/).fill('4711');
    await begin(trainee, 'Reading drill');
    for (const level of [150, 850, 212, 289, 565, 675]) {
      await trainee.type(String(level));
      await page.getByRole('button', { name: 'Correct' }).click();
      await page.getByText('You said').waitFor();
      await page.getByRole('button', { name: 'Next' }).click();
    }
    await page.getByText('6 of 6').waitFor();
    expect(await trainee.events()).toEqual([]);

    await page.getByRole('link', { name: 'Bedside' }).click();
    await trainee.begin();
    await expect.poll(async () => (await trainee.events()).length).toBeGreaterThan(0);
  });
});
