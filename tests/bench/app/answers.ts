import type { Page } from 'playwright-core';
import { writeWave } from '../../../src/speech/wave.ts';
import { bedside as words } from '../../../src/words/en-US/bedside.ts';
import { BedsidePage } from '../../support/bedsidePage.ts';
import { openBrowser } from '../../support/browser.ts';
import { say } from '../../support/flite.ts';
import { CLIP_RATE } from '../../support/microphone.ts';
import type { CountedServer } from './countedServer.ts';
import { noteInPage, notedIn, slowDown } from './slowPage.ts';
import { median, type Row } from './table.ts';
import { toEnd, toReading } from './typedWalk.ts';

// No volume twice, and none far from those before: the assistant would ask about it first.
const typedVolumes = [
  'two hundred',
  'three hundred',
  'one hundred fifty',
  'four hundred',
  'six hundred',
];
const spokenVolumes = [
  'two hundred fifty',
  'three hundred fifty',
  'four hundred fifty',
  'five hundred',
  'three hundred twenty five',
];

/** Wait until the assistant says something that fits. Resolves with when it began. */
async function answered(page: Page, pattern: RegExp): Promise<number> {
  await page.waitForFunction(
    ([source]) => {
      const { caption } = (window as unknown as { noted: { caption: { text: string } | null } })
        .noted;
      return caption !== null && new RegExp(source ?? '', 'i').test(caption.text);
    },
    [pattern.source],
    { timeout: 120_000 },
  );
  return (await notedIn(page)).caption?.at ?? Number.NaN;
}

async function typed(aide: BedsidePage, volume: string): Promise<number> {
  const { page } = aide;
  await aide.untilListening();
  await page.getByLabel(words.walk.typed).fill(`${volume} milliliters`);
  const asked = page.evaluate(
    () =>
      new Promise<number>((done) => {
        addEventListener('submit', (event) => done(event.timeStamp), { capture: true, once: true });
        addEventListener('click', (event) => done(event.timeStamp), { capture: true, once: true });
      }),
  );
  await page.getByRole('button', { name: words.walk.typedSend }).click();
  return (await answered(page, new RegExp(volume))) - (await asked);
}

/** From the last sound of the word to the first of the answer. */
async function spoken(aide: BedsidePage, volume: string): Promise<number> {
  const { page } = aide;
  await aide.untilListening();
  const clip = say(`${volume} milliliters`);
  const last = clip.findLastIndex((sample) => Math.abs(sample) > 0.01);
  const after = ((clip.length - last) / CLIP_RATE) * 1000;
  const wave = Buffer.from(writeWave({ samples: clip, rate: CLIP_RATE })).toString('base64');
  const ended = await page.evaluate(async (data) => {
    const held = (
      window as unknown as { glovesideMicrophone: { play(wav: string): Promise<void> } }
    ).glovesideMicrophone;
    await held.play(data);
    return performance.now();
  }, wave);
  return (await answered(page, new RegExp(volume))) - (ended - after);
}

/** From a volume typed or spoken to the moment when the assistant begins to read it back. */
export async function answerTimes(server: CountedServer, slower: number): Promise<Row[]> {
  const browser = await openBrowser();
  try {
    await noteInPage(browser.page);
    const aide = await BedsidePage.open(browser, server.url, { voice: { msPerCharacter: 1 } });
    await slowDown(browser.page, slower);
    const measure = async (run: typeof typed, volumes: readonly string[]): Promise<number> => {
      const times: number[] = [];
      for (const volume of volumes) {
        await toReading(aide);
        times.push(await run(aide, volume));
        await toEnd(aide);
      }
      return median(times);
    };
    const typedTime = await measure(typed, typedVolumes);
    return [
      { what: 'typed volume to its read-back', value: typedTime, unit: 'ms' },
      {
        what: 'last sound of a spoken volume to its read-back',
        value: await measure(spoken, spokenVolumes),
        unit: 'ms',
        against: { value: typedTime, name: 'typed' },
      },
    ];
  } finally {
    await browser.close();
  }
}
