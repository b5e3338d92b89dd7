import { render, screen } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test, vi } from 'vitest';
import { estimated, measured } from '../../../tests/support/entries.ts';
import { aide, nurse } from '../../../tests/support/ledgerStory.ts';
import { RecordStory, storySettings } from '../../../tests/support/recordStory.ts';
import type { FileOutcome, HandedFile, RecordFiles } from '../../app/recordFiles.ts';
import { grams } from '../../measure/weight.ts';
import Sheet from './Sheet.svelte';

/** Bed 4: 240 mL in and 300 mL out confirmed; 350 mL, an estimate and an episode beside them. */
async function day() {
  const story = new RecordStory();
  const drunk = await story.draft(10, { kind: 'oralFluid', amount: measured(240) });
  const put = await story.draft(70, { amount: measured(300) });
  for (const { entry } of [drunk, put]) {
    await story.book.confirm(nurse, [(await story.book.find(entry))!]);
  }
  await story.draft(190, { amount: measured(350) });
  await story.draft(200, { kind: 'stoolLiquid', amount: estimated(150) });
  await story.draft(210, { kind: 'urineVoided', amount: { method: 'unmeasured', count: 1 } });
  await story.draft(220, { bed: 'Bed 5', amount: measured(425) });
  return story;
}

async function show(story: RecordStory, props = {}) {
  const { book } = story;
  const shared = { author: nurse, settings: storySettings, temporal: Temporal, unit: 'North' };
  render(Sheet, { book, ...shared, ...props });
  await screen.findByRole('table', { hidden: true });
  return userEvent.setup();
}

const textOf = (cell: HTMLElement) => cell.textContent.replace(/\s+/g, ' ').trim();
// Through the table itself: to reckon a role and a name for each of its hundreds of cells is slow.
const rows = () => [...document.querySelector('table')!.rows];
const rowHeads = () => rows().map(({ cells: [head] }) => (head ? textOf(head) : ''));
const cells = (name: RegExp) => {
  const row = rows().find(({ cells: [head] }) => head && name.test(textOf(head)));
  return row ? [...row.cells].slice(1).map(textOf) : [];
};

// jsdom reckons styles for every cell; a busy machine takes its time.
vi.setConfig({ testTimeout: 30_000 });

describe('When one bed and day is shown', () => {
  test('hours, marks and both sums stand in the table', async () => {
    await show(await day());
    const [first, second] = rows();
    expect([...first!.cells, ...second!.cells].map(textOf)).toEqual([
      'Hour',
      'Intake (mL)',
      'Output (mL)',
      'Balance (mL)',
      'Fluids by mouth',
      'Urine, catheter',
      'Urine, voided',
      'Stool, liquid',
      'All',
    ]);
    const nothing = '–nothing recorded';
    expect(cells(/^0700/)).toEqual(['240', '', '', '', '', '+240']);
    expect(cells(/^1000/)[1]).toBe('(350) waiting');
    expect(cells(/24 h total confirmed/)).toEqual(['240', '300', nothing, nothing, '300', '−60']);
    expect(cells(/24 h total with waiting/)).toEqual([
      '240',
      '650',
      '1× not measured',
      '≈150 estimated',
      '650 ≈150 estimated 1× not measured',
      '−410* not the whole balance',
    ]);
  });

  test('a shift of nothing has no 0', async () => {
    await show(await day());
    for (const cell of cells(/Evening 1500–2300 confirmed/)) {
      expect(cell).toBe('–nothing recorded');
    }
  });

  test('each mark that is used is explained, and none that is not', async () => {
    const story = new RecordStory();
    await story.draft(10);
    await show(story);
    expect(screen.getByText(/waits for review and is not yet counted/)).toBeVisible();
    expect(screen.queryByText(/is an estimate/)).toBeNull();
    expect(screen.queryByText(/was not measured/)).toBeNull();
  });

  test('what is open or struck out is named beside the sums', async () => {
    const story = new RecordStory();
    await story.draft(10, { amount: null });
    const { entry } = await story.draft(20);
    await story.book.strike(nurse, (await story.book.find(entry))!, 'wrong bed');
    await show(story);
    expect(screen.getByText(/1 entry is still open and in no sum/)).toBeVisible();
    expect(screen.getByText(/1 entry was struck out and counts nowhere/)).toBeVisible();
  });

  test('the drawing says in words what it shows', async () => {
    await show(await day());
    expect(screen.getByRole('img')).toHaveAccessibleName(
      /240 mL taken in, 650 mL put out.*balance, at the end −410 mL/,
    );
  });

  test('another bed or day is another look, and noted', async () => {
    const story = await day();
    const user = await show(story);
    await user.selectOptions(screen.getByRole('combobox', { name: 'Bed' }), 'Bed 5');
    await expect.poll(() => cells(/^1000/)).toContain('(425) waiting');
    await user.click(screen.getByRole('button', { name: 'Day before' }));
    expect(await screen.findByText('Nothing was recorded for this bed on this day.')).toBeVisible();
    const looks = (await story.events()).filter(({ type }) => type === 'page.viewed');
    expect(looks).toMatchObject([{ bed: 'Bed 4' }, { bed: 'Bed 5' }]);
  });

  test('an entry that is confirmed elsewhere moves from waiting to confirmed', async () => {
    const story = await day();
    await show(story);
    const waiting = await story.book.find((await story.draft(230)).entry);
    await expect.poll(() => cells(/24 h total with waiting/)[1]).toBe('1,000');
    await story.book.confirm(nurse, [waiting!]);
    await expect.poll(() => cells(/24 h total confirmed/)[1]).toBe('650');
  });

  test('an hour that happens twice stands there twice, with its offset', async () => {
    const plan = { ...storySettings.plan, zone: 'Europe/Berlin' };
    await show(new RecordStory(), {
      settings: { ...storySettings, plan },
      date: '2026-10-24',
    });
    expect(rowHeads()).toEqual(expect.arrayContaining(['0200 +02:00', '0200 +01:00']));
    expect(rowHeads()).toContain('25 h total confirmed');
  });
});

describe('When an address names a bed or a day', () => {
  test('a bed that the unit does not have is told, and a day that is none is today', async () => {
    await show(await day(), { bed: 'Bed 99', date: '2026-02-30' });
    expect(screen.getByText(/This bed is not on the unit’s list/)).toBeVisible();
    expect(screen.getByDisplayValue('2026-03-02')).toBeVisible();
  });
});

describe('When the day of a bed is over', () => {
  const over = async () => {
    const story = new RecordStory();
    await story.draft(10, { amount: measured(200) });
    await story.draft(190, { amount: measured(190) });
    story.ms += 48 * 3_600_000;
    return story;
  };
  const weightOf = () => grams(70_000);

  test('a nurse reads its figures with each published definition and its source', async () => {
    await show(await over(), { date: '2026-03-02', weightOf });
    const shown = screen.getByRole('region', { name: 'Urine of this day, measured' });
    for (const part of [
      '390 mL in 24 h, 16.2 mL/h, 0.23 mL/kg/h at 70 kg',
      'Under 400 mL in 24 hours (university cross-cover guide',
      'Under 0.3 mL/kg/h for 24 hours and more (KDIGO 2012, Table 2; mean rate).',
    ]) {
      expect(shown).toHaveTextContent(part);
    }
    expect(shown).not.toHaveTextContent(/normal|oligur|anur|injur|stage/i);
  });

  test('an aide does not, and neither does anybody while the day goes on', async () => {
    await show(await over(), { date: '2026-03-02', weightOf, author: aide });
    expect(screen.queryByRole('region', { name: /Urine of this day/ })).toBeNull();
    await show(await day(), { weightOf });
    expect(screen.queryByRole('region', { name: /Urine of this day/ })).toBeNull();
  });
});

describe('When the whole wing is shown', () => {
  test('each bed has a row, and the shift its sums', async () => {
    const user = await show(await day());
    await user.click(screen.getByRole('radio', { name: /Whole wing/ }));
    await expect.poll(rowHeads).toContain('Bed 5');
    expect(cells(/^Bed 5/).slice(2, 6)).toEqual([
      '–nothing recorded',
      '425',
      '–nothing recorded',
      '−425',
    ]);
    expect(cells(/^All beds/).slice(0, 4)).toEqual([
      '240',
      '240',
      '300',
      '1,075 ≈150 estimated 1× not measured',
    ]);
  });
});

describe('When files are asked for', () => {
  const stopped = Promise.resolve({ outcome: 'stopped' } as const);
  const none: RecordFiles = {
    fhir: () => stopped,
    csv: () => stopped,
    backup: () => stopped,
    restore: () => stopped,
  };

  test('the file goes to the person, and its name is told', async () => {
    const saved: string[] = [];
    URL.createObjectURL = () => 'blob:invented';
    vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (
      this: HTMLAnchorElement,
    ) {
      saved.push(this.download);
    });
    const file: FileOutcome<HandedFile> = {
      outcome: 'done',
      value: { name: 'bed-4.csv', content: new Blob(['bed']) },
    };
    const user = await show(await day(), {
      files: { ...none, csv: () => Promise.resolve(file) },
    });
    await user.click(screen.getByRole('button', { name: 'Spreadsheet (CSV)' }));
    expect(await screen.findByText('Saved as bed-4.csv.')).toBeVisible();
    expect(saved).toEqual(['bed-4.csv']);
    vi.restoreAllMocks();
  });

  test('FHIR goes out as new, or with changes, each by its own button', async () => {
    const story = await day();
    const modes: string[] = [];
    const fhir: RecordFiles['fhir'] = (_scope, _doing, mode) => {
      modes.push(mode);
      return Promise.resolve({ outcome: 'stopped' });
    };
    const user = await show(story, { files: { ...none, fhir } });
    await user.click(screen.getByRole('button', { name: 'FHIR bundle (JSON)' }));
    await user.click(screen.getByRole('button', { name: 'FHIR bundle with changes (JSON)' }));
    expect(modes).toEqual(['create', 'update']);
    expect(screen.getByText(/brings entries up to date that were amended/)).toBeVisible();
  });

  test('long work shows how far it is and can be stopped', async () => {
    const backup: RecordFiles['backup'] = ({ onprogress, signal }) =>
      new Promise((resolve) => {
        onprogress(500, 2000);
        signal.addEventListener('abort', () => resolve({ outcome: 'stopped' }));
      });
    const user = await show(await day(), { files: { ...none, backup } });
    await user.click(screen.getByRole('button', { name: /backup/ }));
    expect(screen.getByRole('progressbar')).toHaveAttribute('max', '2000');
    expect(screen.getByText('500 of 2000 events')).toBeVisible();
    await user.click(screen.getByRole('button', { name: 'Stop' }));
    expect(await screen.findByText('Stopped. Nothing was changed.')).toBeVisible();
    expect(screen.queryByRole('progressbar')).toBeNull();
  });

  test('a broken backup is refused in words', async () => {
    const why = 'Line 3: The file ends too early. Nothing was restored.';
    const restore = () => Promise.resolve({ outcome: 'failed', why } as const);
    const user = await show(await day(), { files: { ...none, restore } });
    const file = new File(['{}'], 'record.jsonl');
    await user.upload(screen.getByLabelText(/Bring a backup back/), file);
    expect(await screen.findByRole('alert')).toHaveTextContent(why);
  });
});

test('a record that can not be read says so, and opens when tried again', async () => {
  const story = await day();
  const groups = story.ledger.groups.bind(story.ledger);
  story.ledger.groups = () => Promise.resolve({ ok: false, fault: 'storage_closed' });
  const shared = { author: nurse, settings: storySettings, temporal: Temporal, unit: 'North' };
  render(Sheet, { book: story.book, ...shared });
  expect(await screen.findByRole('alert')).toHaveTextContent('could not be read');
  story.ledger.groups = groups;
  await userEvent.click(screen.getByRole('button', { name: 'Try again' }));
  expect(await screen.findByRole('table')).toBeVisible();
});
