import { render, screen, within } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test, vi } from 'vitest';
import { nurse } from '../../../tests/support/ledgerStory.ts';
import { RecordStory, storySettings } from '../../../tests/support/recordStory.ts';
import Review from './Review.svelte';

// Names and roles are reckoned slowly in jsdom; a busy machine takes its time.
vi.setConfig({ testTimeout: 30_000 });

const tiles = () =>
  within(screen.getByRole('list', { name: 'Entries of the day' }))
    .getAllByRole('button')
    .map(({ textContent }) => textContent.replace(/\s+/g, ' ').trim());

describe('When an address names a bed or a day', () => {
  const open = async (story: RecordStory, bed: string, date: string) => {
    const shared = { author: nurse, settings: storySettings, temporal: Temporal };
    render(Review, { book: story.book, ...shared, bed, date });
    await expect.poll(() => screen.queryByText(/Opening the record/)).toBeNull();
  };

  test('a bed that the unit does not have is told, and what it has in the record is shown', async () => {
    const story = new RecordStory();
    await story.draft(0, { bed: 'Bed 99' });
    await open(story, 'Bed 99', '2026-03-02');
    expect(screen.getByText(/This bed is not on the unit’s list. Choose a bed/)).toBeVisible();
    expect(tiles()).toEqual([expect.stringMatching(/Bed 99 350 mL/)]);
    await userEvent.selectOptions(screen.getByRole('combobox', { name: 'Bed' }), 'Bed 5');
    expect(screen.queryByText(/not on the unit’s list/)).toBeNull();
  });

  test('a day that no calendar has is today', async () => {
    const story = new RecordStory();
    await story.draft(0);
    await open(story, 'Bed 4', '2026-02-30');
    expect(screen.getByLabelText('Date')).toHaveValue('2026-03-02');
    expect(tiles()).toEqual([expect.stringMatching(/Bed 4 350 mL/)]);
  });

  test('looking a bed and day up is noted with the bed', async () => {
    const story = new RecordStory();
    await open(story, 'Bed 5', '2026-03-02');
    await expect
      .poll(async () => (await story.events()).map((event) => event))
      .toMatchObject([{ type: 'page.viewed', page: 'search', bed: 'Bed 5', by: nurse }]);
  });
});
