import { render, screen, within } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test, vi } from 'vitest';
import { measured } from '../../../tests/support/entries.ts';
import { nurse, otherNurse } from '../../../tests/support/ledgerStory.ts';
import { RecordStory, storySettings } from '../../../tests/support/recordStory.ts';
import Review from './Review.svelte';

// Names and roles are reckoned slowly in jsdom; a busy machine takes its time.
vi.setConfig({ testTimeout: 30_000 });

const inView = () => screen.getByRole('article').getAttribute('aria-label');
const press = (name: string) => screen.getByRole('button', { name });
const saying = (text: RegExp) =>
  expect
    .poll(() =>
      screen
        .getAllByRole('status')
        .map(({ textContent }) => textContent)
        .join(' '),
    )
    .toMatch(text);

describe('When another reviewer decides while a slip is out', () => {
  async function slipOut(key: 'a' | 's') {
    const story = new RecordStory();
    const { entry } = await story.draft(0);
    const shared = { author: nurse, settings: storySettings, temporal: Temporal };
    render(Review, { book: story.book, ...shared, bed: 'Bed 4', date: '2026-03-02' });
    await expect.poll(() => screen.queryByText(/Opening the record/)).toBeNull();
    const user = userEvent.setup();
    await user.keyboard(key);
    const seen = await story.book.find(entry);
    story.ms += 1_000;
    await story.write(
      otherNurse,
      {
        type: 'entry.amended',
        entry,
        saw: seen!.head,
        reason: 'read again',
        changes: { amount: { was: measured(350), is: measured(375) } },
      },
      story.device(),
    );
    await expect.poll(inView).toBe('Bed 4, 375 mL');
    story.ms += 1_000;
    return { story, user, entry };
  }
  const reason = () => screen.getByRole('textbox', { name: 'Reason' });

  test('an amendment of another field does not undo theirs, and the second is told', async () => {
    const { story, user, entry } = await slipOut('a');
    await user.selectOptions(
      within(screen.getByRole('article')).getByRole('combobox', { name: 'Bed' }),
      'Bed 5',
    );
    await user.type(reason(), 'wrong bed');
    await user.click(press('Keep the amendment'));
    await saying(/Not done: Bed 4, 375 mL.*QB.*decided first/);
    expect(await story.book.find(entry)).toMatchObject({ amount: measured(375), bed: 'Bed 4' });
  });

  test('what was struck out unseen is not struck out, and the second is told', async () => {
    const { story, user, entry } = await slipOut('s');
    await user.type(reason(), 'wrong bed');
    await user.click(press('Strike it out'));
    await saying(/Not done: .*QB.*decided first/);
    expect(await story.book.find(entry)).toMatchObject({ status: 'preliminary' });
  });
});
