import fc from 'fast-check';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeEach, describe, expect, inject, test } from 'vitest';
import { defaultUnit } from '../../src/app/defaultUnit.ts';
import { GrammarError } from '../../src/grammar/jsgf/grammarError.ts';
import { parseGrammar } from '../../src/grammar/jsgf/parseGrammar.ts';
import urinal from '../../src/procedures/en-US/urinal.json' with { type: 'json' };
import { backupLines } from '../../src/storage/backup.ts';
import { runningSha256 } from '../../src/storage/sha256.ts';
import { review } from '../../src/words/en-US/review.ts';
import { sheet } from '../../src/words/en-US/sheet.ts';
import { unit as words } from '../../src/words/en-US/unit.ts';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { downloaded, fileOf } from '../support/files.ts';
import { measured } from '../support/entries.ts';
import { hostileFiles, hostileTexts } from '../support/hostileTexts.ts';
import { recordOnDisk } from '../support/recordOnDisk.ts';
import { at, aide, digest, draftFact, nurse, Pen } from '../support/ledgerStory.ts';

declare global {
  interface Window {
    /** What ran that must not, and what the page's policy had to refuse. */
    struck: string[];
  }
}

const home = inject('baseUrl');
/** Half a character: no file and no address holds one. */
const lone = /\p{Cs}/u;
const tried = { files: 0, texts: 0, refused: 0 };
let browser: OpenBrowser;
let page: Page;

beforeEach(async () => {
  browser = await openBrowser({ context: { acceptDownloads: true } });
  ({ page } = browser);
  await page.addInitScript(() => {
    window.struck = [];
    const strike = (what: unknown) => window.struck.push(String(what));
    Object.assign(window, { ran: strike, alert: strike, confirm: strike, prompt: strike });
    document.addEventListener('securitypolicyviolation', (event) => {
      strike(`${event.effectiveDirective} ${event.blockedURI}`);
    });
  });
});

afterEach(() => browser.close());

afterAll(() => {
  const { files, texts, refused } = tried;
  console.log(`hostile inputs tried: ${files + texts}, of them refused as files: ${refused}`);
});

/** Nothing ran, no policy had to step in, nothing was polluted, nothing left. */
async function untouched(): Promise<void> {
  // What an element of the text would do, it has done two frames later.
  const struck = await page.evaluate(
    () =>
      new Promise<string[]>((done) => {
        requestAnimationFrame(() => requestAnimationFrame(() => done(window.struck)));
      }),
  );
  expect(struck).toEqual([]);
  expect(await page.evaluate(() => 'polluted' in {})).toBe(false);
  expect(browser.leaving(home)).toEqual([]);
  expect(browser.errors).toEqual([]);
}

async function goTo(place: string, heading: string): Promise<void> {
  await page.goto(`${home}#/${place}`);
  await page.getByRole('heading', { level: 1, name: heading }).first().waitFor();
}

/** Hand a file to a part of the set-up; gives whether it was taken, or told by what it was refused. */
async function handIn(
  part: string,
  label: string,
  text: string,
  name = 'x.json',
): Promise<boolean> {
  const section = page.locator(`#unit-${part}`);
  await section.getByLabel(label).setInputFiles(fileOf(name, text));
  const answer = section.locator('.inside > [role="status"], .inside > .lines[role="alert"]');
  await answer.waitFor();
  tried.files += 1;
  const taken = (await answer.getAttribute('role')) === 'status';
  if (taken) return true;
  tried.refused += 1;
  expect(await answer.locator('li').count()).toBeGreaterThan(0);
  return false;
}

const openPart = (part: string) => page.locator(`#unit-${part} > summary`).click();

describe('When a file of settings wants to be more than settings', () => {
  test('each text in it is shown as text, or the file is refused with its lines', async () => {
    await goTo('unit', words.title);
    await openPart('file');
    const taken: string[] = [];
    for (const [index, text] of hostileTexts.entries()) {
      const [bed] = defaultUnit.beds;
      const beds = [...defaultUnit.beds, { ...bed, id: `bed-x${index}`, label: text }];
      // A name of a file holds no slash and no NUL.
      const name = `${text.replaceAll(/[/\\\p{Cc}\p{Cs}]/gu, '').slice(0, 60)}.json`;
      const file = JSON.stringify({ ...defaultUnit, nurse: text.slice(0, 120), beds });
      if (await handIn('file', words.file.take, file, name)) taken.push(text);
      await untouched();
    }
    for (const file of hostileFiles) {
      expect(await handIn('file', words.file.take, file)).toBe(false);
    }
    await untouched();
    expect(taken.length).toBeGreaterThan(20);
    // All together, and kept.
    const byName = new Map(taken.map((text) => [text.trim().toLowerCase(), text.trim()]));
    const labels = [...byName.values()];
    const beds = labels.map((label, index) => ({
      ...defaultUnit.beds[0],
      id: `bed-${index}`,
      label,
    }));
    expect(
      await handIn('file', words.file.take, JSON.stringify({ ...defaultUnit, beds, nurse: '' })),
    ).toBe(true);
    await page.getByRole('button', { name: words.save.save }).click();
    await page.getByText(words.save.saved).waitFor();
    await page.reload();
    await goTo('bedside', 'Which bed, and what?');
    const shown = await page.locator('input[name=bed] + span').allTextContents();
    expect(shown).toEqual(labels);
    await goTo('sheet', sheet.title);
    const listed = await page.getByLabel(sheet.controls.bed).locator('option').allTextContents();
    expect(listed).toEqual(labels);
    for (const [place, heading] of Object.entries({
      handover: 'Handover',
      review: review.title,
      practice: 'Practice',
    })) {
      await goTo(place, heading);
      await untouched();
    }
  });

  test('a procedure, too', async () => {
    await goTo('unit', words.title);
    await openPart('procedures');
    let taken = 0;
    for (const [index, text] of hostileTexts.entries()) {
      const steps = urinal.steps.map((step, place) =>
        place === 0 ? { ...step, call: text, why: text } : step,
      );
      const own = { ...urinal, id: `own-${index}`, title: text, spoken: [`own ${index}`], steps };
      if (await handIn('procedures', words.procedures.choose, JSON.stringify(own))) taken += 1;
      await untouched();
    }
    for (const file of hostileFiles) {
      expect(await handIn('procedures', words.procedures.choose, file)).toBe(false);
    }
    await untouched();
    console.log(`procedures taken as text: ${taken}`);
  });
});

describe('When a backup brings hostile text', () => {
  test('review, history and sheet show it as text, and the table is safe for a spreadsheet', async () => {
    // Noon of yesterday: the same day of the sheet at whatever hour this runs.
    const noon = new Date();
    noon.setDate(noon.getDate() - 1);
    noon.setHours(12, 0, 0, 0);
    const day = noon.toLocaleDateString('en-CA');
    const pen = new Pen(noon.getTime());
    const events = [];
    const texts = hostileTexts
      .filter((text) => text.length <= 4_000 && !lone.test(text))
      .map((text) => text.slice(0, 200));
    const was = measured(350);
    for (const text of texts) {
      const heard = [
        {
          ear: text.slice(0, 100),
          at: pen.ms,
          alternatives: [{ transcript: text, confidence: 1 }],
          fit: 'taken' as const,
          made: null,
        },
      ];
      const evidence = {
        ...{ heard, readBack: text, answer: text, tries: 1, findings: [], looks: [] },
        working: null,
      };
      const readAt = at(pen.ms);
      const fact = draftFact({ note: text, procedure: text, readAt, evidence });
      const draft = await pen.write(aide, fact);
      const changes = { amount: { was, is: measured(360) } };
      const amended = { type: 'entry.amended', entry: fact.entry, saw: draft.id } as const;
      events.push(draft, await pen.write(nurse, { ...amended, changes, reason: text || 'x' }));
      events.push(await pen.write(aide, draftFact({ bed: text, note: text, readAt })));
      tried.texts += 2;
    }
    const lines: string[] = [];
    const tools = { digest, newHash: runningSha256 };
    for await (const line of backupLines(events, '2026-03-02T12:00:00Z', tools)) lines.push(line);

    await goTo('sheet', sheet.title);
    const pick = page.getByLabel(sheet.files.restore);
    for (const file of hostileFiles) {
      await pick.setInputFiles(fileOf('x.jsonl', file));
      await page.locator('.files [role=alert]').waitFor();
      tried.files += 1;
      tried.refused += 1;
    }
    await untouched();
    await pick.setInputFiles(fileOf('wing.jsonl', lines.join('')));
    await page.getByText(sheet.files.restored(events.length, 0)).waitFor();

    await page.goto(`${home}#/sheet/Bed%204/${day}`);
    await page.locator('main table').first().waitFor();
    const table = await safeCells();
    for (const text of texts) {
      expect(table.includes(text) || table.includes(`'${text}`), JSON.stringify(text)).toBe(true);
    }
    await downloaded(page, sheet.files.fhir);
    for (const text of texts.filter((_, index) => index % 6 === 0)) {
      const bed = encodeURIComponent(text);
      await page.goto(`${home}#/review/${bed}/${day}`);
      await page.getByRole('heading', { level: 1, name: review.title }).waitFor();
      await page.locator('body').press('h');
      await untouched();
      await page.goto(`${home}#/sheet/${bed}/${day}`);
      await page.getByRole('heading', { level: 1, name: sheet.title }).waitFor();
      const cells = await safeCells();
      expect(cells.includes(text) || cells.includes(`'${text}`), JSON.stringify(text)).toBe(true);
      await untouched();
    }
    await goTo('review', review.title);
    await page.getByLabel('Signed in').selectOption('JP');
    const reasons = texts.filter((text) => /^[<=${'"]/.test(text)).slice(0, 12);
    for (const [index, reason] of reasons.entries()) {
      await page.locator('body').press('a');
      await page.getByLabel(review.amend.amount).fill(String(400 + index));
      await page.getByLabel(review.amend.reason, { exact: true }).fill(reason);
      await page.getByRole('button', { name: review.amend.save }).click();
      await expect.poll(lastReason).toBe(reason.trim());
      tried.texts += 1;
      await untouched();
    }
  });
});

/** The reason of what was written last into the record. */
async function lastReason(): Promise<string> {
  const amended = (await recordOnDisk(page, 'gloveside')).filter(
    (event) => event.type === 'entry.amended',
  );
  return amended.sort((one, other) => one.at.ms - other.at.ms).at(-1)?.reason ?? '';
}

describe('When hostile text is typed or stands in the address', () => {
  test('a walk shows it as talk, and an address leads somewhere', async () => {
    for (const text of hostileTexts.filter((each) => each.length < 200 && !lone.test(each))) {
      const bed = encodeURIComponent(text);
      await page.goto(`${home}#/review/${bed}/${bed}`);
      await page.getByRole('heading', { level: 1 }).first().waitFor();
      await page.goto(`${home}#/${bed}`);
      await page.getByRole('heading', { level: 1 }).first().waitFor();
      tried.texts += 2;
    }
    await untouched();
    const bedside = await BedsidePage.open(browser, home);
    await bedside.begin();
    for (const text of hostileTexts.filter((each) => each.trim() !== '' && each.length < 200)) {
      await bedside.type(text);
      if (text.startsWith('<')) {
        await page.locator('.talk').getByText(text, { exact: false }).waitFor();
      }
      tried.texts += 1;
      await untouched();
    }
    expect(await bedside.step()).toBe('Clean your hands.');
  });
});

describe('When a grammar file is hostile', () => {
  test('it is read, or refused with its line, and nothing else', () => {
    const seed = 20260302;
    console.log(`seed ${seed}`);
    let refused = 0;
    const readOne = (text: string) => {
      tried.files += 1;
      try {
        parseGrammar('x.gram', text);
      } catch (error) {
        if (!(error instanceof GrammarError)) throw error;
        expect(error.line).toBeGreaterThan(0);
        refused += 1;
      }
    };
    const head = '#JSGF V1.0 UTF-8 en;\ngrammar x;\n';
    for (const text of hostileTexts) {
      readOne(text);
      readOne(`${head}public <x> = ${text};`);
      readOne(`${head}public <${text}> = yes {${text}};`);
    }
    const part = fc.oneof(fc.constantFrom(...hostileTexts.slice(0, -3)), fc.string());
    fc.assert(
      fc.property(fc.array(part, { maxLength: 6 }), (parts) => {
        readOne(`${head}public <x> = ${parts.join(' ')};`);
      }),
      { seed, numRuns: 300 },
    );
    tried.refused += refused;
    expect(refused).toBeGreaterThan(hostileTexts.length);
    expect('polluted' in {}).toBe(false);
  });
});

/** The cells of the table that the page gives, none of which a spreadsheet would work out. */
async function safeCells(): Promise<string[]> {
  const { text: table } = await downloaded(page, sheet.files.csv);
  const cells = cellsOf(table);
  for (const cell of cells) expect(cell).not.toMatch(/^[\s\p{Cc}\p{Cf}]*[=+\-@＝＋－＠]/u);
  return cells;
}

/** The cells of a table after RFC 4180. */
function cellsOf(table: string): string[] {
  const cells = table.matchAll(/(?:^|,|\r\n)(?:"((?:[^"]|"")*)"|([^",\r\n]*))/g);
  return [...cells].map(([, quoted, plain]) => quoted?.replaceAll('""', '"') ?? plain ?? '');
}
