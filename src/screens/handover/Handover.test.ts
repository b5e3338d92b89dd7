import { render, screen } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { measured } from '../../../tests/support/entries.ts';
import { aide, newId, nurse, storyStart } from '../../../tests/support/ledgerStory.ts';
import { RecordStory, storySettings } from '../../../tests/support/recordStory.ts';
import Handover from './Handover.svelte';

const hour = 3_600_000;

async function shift() {
  const story = new RecordStory();
  await story.draft(10, { kind: 'oralFluid', amount: measured(240) });
  await story.draft(30, { amount: measured(350) });
  await story.write(aide, {
    type: 'alert.raised',
    alert: newId(),
    code: 'blood',
    words: 'Tell the nurse: the urine looks red.',
    bed: 'Bed 4',
    walk: null,
    entry: null,
  });
  return story;
}

async function show(story: RecordStory, say: ((text: string) => Promise<void>) | null = null) {
  const shared = { author: nurse, settings: storySettings, temporal: Temporal, unit: 'North' };
  render(Handover, { book: story.book, say, ...shared });
  await screen.findByRole('article');
  return userEvent.setup();
}

describe('When a shift is handed over', () => {
  test('what is told, then bed by bed times and amounts', async () => {
    await show(await shift());
    const page = screen.getByRole('article');
    expect(page).toHaveTextContent(/Since 0700, Monday, March 2, 2026/);
    expect(page).toHaveTextContent(/Told and not yet taken Bed 4 Tell the nurse/);
    const [, bed4] = document.querySelector('table')!.rows;
    expect(bed4).toHaveTextContent(/Fluids by mouth 0710 \(240\)\s?Urine, catheter 0730 \(350\)/);
    expect(page).toHaveTextContent('Nothing new: Bed 5.');
  });

  test('who is past due is named with the last reading', async () => {
    const story = await shift();
    story.ms = storyStart + 9.5 * hour;
    await show(story);
    expect(screen.getByRole('region', { name: 'Due' })).toHaveTextContent(
      'Bed 4 Urine, catheter: 1 h past due, last reading 0730',
    );
  });

  test('it is said aloud in words, until it is stopped', async () => {
    const said: string[] = [];
    const signals: AbortSignal[] = [];
    const say = (text: string, signal?: AbortSignal) => {
      said.push(text);
      if (signal) signals.push(signal);
      return new Promise<void>((resolve) => signal?.addEventListener('abort', () => resolve()));
    };
    const user = await show(await shift(), say);
    await user.click(screen.getByRole('button', { name: 'Say it aloud' }));
    expect(said).toEqual([
      'Handover, since seven hundred. 1 thing is told and not yet taken. ' +
        'Bed 4. Tell the nurse: the urine looks red. ' +
        'Bed 4. Fluids by mouth at seven ten: two hundred forty milliliters; ' +
        'Urine, catheter at seven thirty: three hundred fifty milliliters. ' +
        '2 entries wait for review. Nothing new for Bed 5. End of handover.',
    ]);
    await user.click(screen.getByRole('button', { name: 'Stop' }));
    expect(signals[0]?.aborted).toBe(true);
    expect(await screen.findByRole('button', { name: 'Say it aloud' })).toBeVisible();
  });

  test('an own look before counts as "since", and this look is noted after it', async () => {
    const story = await shift();
    await story.book.viewPage(nurse, 'handover', null);
    story.ms += hour;
    await story.draft(130, { bed: 'Bed 5' });
    await show(story);
    await expect.poll(() => screen.getByRole('combobox')).toHaveValue('last');
    const page = screen.getByRole('article');
    expect(page).toHaveTextContent(/Since 0800/);
    expect(page).toHaveTextContent('Nothing new: Bed 4.');
    await expect
      .poll(async () => (await story.events()).filter(({ type }) => type === 'page.viewed'))
      .toHaveLength(2);
  });

  test('a wing with nothing new says so', async () => {
    await show(new RecordStory());
    expect(screen.getByText(/Nothing new since then, nothing told, nobody due/)).toBeVisible();
  });

  test('a struck number is crossed out on the page and never said', async () => {
    const story = new RecordStory();
    const { entry } = await story.draft(10, { amount: measured(975) });
    await story.book.strike(nurse, (await story.book.find(entry))!, 'wrong bed');
    await show(story);
    expect(screen.getByRole('article')).toHaveTextContent('975');
    expect(document.querySelector('details')).not.toHaveTextContent('nine hundred seventy-five');
  });
});

test('a record that can not be read says so', async () => {
  const story = await shift();
  story.ledger.groups = () => Promise.resolve({ ok: false, fault: 'storage_closed' });
  const shared = { author: nurse, settings: storySettings, temporal: Temporal, unit: 'North' };
  render(Handover, { book: story.book, say: null, ...shared });
  expect(await screen.findByRole('alert')).toHaveTextContent('could not be read');
});
