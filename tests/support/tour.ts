import type { Page } from 'playwright-core';
import drainageBag from '../../src/procedures/en-US/drainage-bag.json' with { type: 'json' };
import { demo } from '../../src/words/en-US/demo.ts';
import { lock } from '../../src/words/en-US/lock.ts';
import { practice } from '../../src/words/en-US/practice.ts';
import { review } from '../../src/words/en-US/review.ts';
import { sheet } from '../../src/words/en-US/sheet.ts';
import { sound } from '../../src/words/en-US/sound.ts';
import { unit } from '../../src/words/en-US/unit.ts';
import { type BedsidePage } from './bedsidePage.ts';
import type { OpenBrowser } from './browser.ts';
import { enterDemo } from './demoPage.ts';
import { button, putLockOn, unlock } from './lockPage.ts';

/** Called at each state of each screen, with a name for it. */
export type Look = (state: string) => Promise<void>;

const { steps } = drainageBag;
const reading = steps.findIndex(({ kind }) => kind === 'reading');

/** One walk, from choosing to the entry. */
export async function tourBedside(aide: BedsidePage, look: Look): Promise<void> {
  await look('bedside: choose');
  await aide.begin();
  await aide.untilListening();
  await look('bedside: a step');
  for (const { call } of steps.slice(0, reading)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep(steps[reading]?.call ?? '');
  await aide.type('three fifty');
  await aide.voice.untilSaid(/three, five, zero/);
  await aide.untilListening();
  await look('bedside: read back');
  await aide.type('correct');
  await aide.untilStep(steps[reading + 1]?.call ?? '');
  await aide.type('good morning dear');
  await look('bedside: a number kept, talk let pass');
  await aide.type('there is blood');
  await aide.voice.untilSaid(/Tell the nurse/);
  await aide.untilListening();
  await look('bedside: held, tell the nurse');
  await aide.type('carry on');
  for (const { call } of steps.slice(reading + 1, -1)) {
    await aide.untilStep(call);
    await aide.type('next');
  }
  await aide.untilStep('The entry waits for review.');
  await look('bedside: done');
}

/** Choosing, the three kinds of practice, a result, and the attempts. */
export async function tourPractice(trainee: BedsidePage, home: string, look: Look): Promise<void> {
  const { page } = trainee;
  await goTo(page, home, 'practice', practice.choose.heading);
  for (const [kind, { title }] of Object.entries(practice.choose.modes)) {
    await page.getByRole('radio', { name: title }).check({ force: true });
    await look(`practice: choose ${kind}`);
    await button(page, practice.choose.begin).click();
    await trainee.untilListening();
    await look(`practice: ${kind}`);
    if (kind === 'drill') {
      await trainee.type('150');
      await button(page, practice.round.buttons.confirm).click();
      await page.getByText(practice.round.youSaid).waitFor();
    } else await trainee.type(kind === 'guided' ? 'why' : 'tell me');
    await trainee.untilListening();
    await look(`practice: ${kind}, answered`);
    await button(page, practice.round.buttons.stop).click();
    await page.getByRole('heading', { name: practice.result.heading }).waitFor();
    await look(`practice: ${kind}, result`);
    await button(page, practice.result.anotherRound).click();
  }
  await button(page, practice.choose.attempts).click();
  await look('practice: attempts');
}

/** Review, sheet and handover of a wing that has a record. */
export async function tourRecord(page: Page, home: string, look: Look): Promise<void> {
  await goTo(page, home, 'review', review.title);
  await page.getByLabel('Signed in').selectOption({ index: await nurseIndex(page) });
  await look('review: rack');
  await page.locator('body').press('a');
  await page.getByText(review.amend.title).waitFor();
  await look('review: amend');
  await page.keyboard.press('Escape');
  await page.locator('body').press('s');
  await page.getByText(review.strike.title).waitFor();
  await look('review: strike out');
  await page.keyboard.press('Escape');
  await page.locator('body').press('h');
  await page.getByText(review.history.title).waitFor();
  await look('review: history');
  await page.getByRole('radio', { name: review.scope.day }).check();
  await look('review: one bed, one day');
  await goTo(page, home, 'sheet', 'Sheet');
  await look('sheet: one bed');
  await page.getByRole('radio', { name: sheet.controls.wing }).check();
  await look('sheet: wing');
  await goTo(page, home, 'handover', 'Handover');
  await look('handover');
}

async function nurseIndex(page: Page): Promise<number> {
  const options = await page.getByLabel('Signed in').locator('option').allInnerTexts();
  return options.findIndex((option) => option.includes('nurse'));
}

/** The set-up with all its parts open, faults too; the sound check; the demo; the lock. */
export async function tourRest({ page }: OpenBrowser, home: string, look: Look): Promise<void> {
  await goTo(page, home, 'unit', unit.title);
  await look('unit: closed');
  for (const part of Object.keys(unit.sections)) {
    const section = page.locator(`#unit-${part}`);
    if ((await section.count()) === 0) continue;
    await section.locator('summary').first().click();
    await look(`unit: ${part}`);
    if (part !== 'card') await section.locator('summary').first().click();
  }
  await page.locator('#unit-beds > summary').click();
  await page.locator('#unit-beds').getByLabel('Bed', { exact: true }).first().fill('');
  await button(page, unit.save.save).click();
  await look('unit: refused');
  await page.reload();
  await goTo(page, home, 'sound', sound.title);
  await look('sound');
  await button(page, sound.check.start).click();
  await look('sound: check');
}

export async function tourDemo(page: Page, home: string, look: Look): Promise<void> {
  await enterDemo(page, home);
  await look('demo: entry');
  await withoutMouth(page);
  await button(page, demo.listen.start).click();
  await button(page, demo.listen.mute).waitFor({ timeout: 90_000 });
  await look('demo: no voice');
  await button(page, demo.listen.mute).click();
  const tape = page.locator('.tape');
  await tape.locator('li').first().waitFor({ timeout: 90_000 });
  const halt = async (state: string) => {
    await button(page, demo.listen.pause).click();
    await look(state);
    await button(page, demo.listen.goOn).click();
  };
  await halt('demo: first minute');
  await button(page, demo.listen.skip).click();
  const stages = {
    'demo: read back': /three hundred milliliters\. correct/i,
    'demo: read in digits': /three, five, zero/i,
    'demo: kept': /kept\./,
  };
  for (const [state, words] of Object.entries(stages)) {
    await tape.getByText(words).waitFor({ timeout: 60_000 });
    await halt(state);
  }
  await button(page, demo.listen.skip).click();
  await page.getByRole('heading', { name: demo.after.title }).waitFor({ timeout: 60_000 });
  await look('demo: now you');
}

/** A device on which the aide has no voice, so that her lines are typed. */
async function withoutMouth(page: Page): Promise<void> {
  await page.evaluate(() => {
    Object.defineProperty(AudioContext.prototype, 'createMediaStreamDestination', {
      value: () => {
        throw new Error('no_sound: this device has none');
      },
    });
  });
}

export async function tourLock(page: Page, home: string, look: Look): Promise<void> {
  await putLockOn(page, home, 'pins', '480271', look);
  await look('lock');
  await unlock(page, 'LN', '135246');
  await page.getByText(lock.wrong.pins).waitFor();
  await look('lock: wrong PIN');
  await page.getByText(lock.forgot.title).click();
  await look('lock: forgotten');
}

async function goTo(page: Page, home: string, place: string, heading: string): Promise<void> {
  await page.goto(`${home}#/${place}`);
  await page.getByRole('heading', { level: 1, name: heading }).first().waitFor();
  await page.waitForLoadState('networkidle');
}
