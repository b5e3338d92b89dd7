import { render, screen, within } from '@testing-library/svelte';
import { userEvent } from '@testing-library/user-event';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test, vi } from 'vitest';
import { aide, newId, nurse, otherNurse } from '../../../tests/support/ledgerStory.ts';
import { measured } from '../../../tests/support/entries.ts';
import { RecordStory, storySettings } from '../../../tests/support/recordStory.ts';
import type { Author } from '../../charting/events.ts';
import type { Evidence } from '../../charting/evidence.ts';
import { millilitres } from '../../measure/volume.ts';
import Review from './Review.svelte';

// Names and roles are reckoned slowly in jsdom; a busy machine takes its time.
vi.setConfig({ testTimeout: 30_000 });

const evidence: Evidence = {
  heard: [
    {
      ear: 'bundled',
      at: 0,
      alternatives: [
        { transcript: 'three fifty', confidence: 0.9 },
        { transcript: 'three fifteen', confidence: 0.4 },
      ],
      fit: 'taken',
      made: millilitres(350),
    },
  ],
  readBack: 'three hundred fifty: three, five, zero. Correct?',
  answer: 'correct',
  tries: 1,
  findings: [],
  looks: [],
  working: null,
};

async function show(story: RecordStory, author: Author = nurse) {
  const user = userEvent.setup();
  render(Review, { book: story.book, author, settings: storySettings, temporal: Temporal });
  await expect.poll(() => screen.queryByText(/Opening the record/)).toBeNull();
  return user;
}

const tiles = () =>
  within(screen.getByRole('list', { name: /Waiting entries|Entries of the day/ }))
    .getAllByRole('button')
    .map(({ textContent }) => textContent.replace(/\s+/g, ' ').trim());
const inView = () => screen.getByRole('article').getAttribute('aria-label');
const press = (name: RegExp | string) => screen.getByRole('button', { name });
const saying = (text: RegExp) =>
  expect
    .poll(() =>
      screen
        .getAllByRole('status')
        .map(({ textContent }) => textContent)
        .join(' '),
    )
    .toMatch(text);

async function types(story: RecordStory) {
  return (await story.events()).map(({ type }) => type);
}

describe('When entries wait', () => {
  test('the entry in view shows how it was made', async () => {
    const story = new RecordStory();
    await story.draft(0, { evidence });
    await show(story);
    const shown = screen.getByRole('article', { name: 'Bed 4, 350 mL' });
    for (const part of [
      /Urine, catheter/,
      /“three fifty” \(ear on this device, taken for 350 mL\)/,
      /or “three fifteen”/,
      /three, five, zero/,
      /“correct”/,
      /0700, Mar 2 by TA/,
      /1 min after the reading/,
      /The checks had nothing to add\./,
    ]) {
      expect(shown).toHaveTextContent(part);
    }
  });

  const little: Evidence = {
    ...evidence,
    findings: [
      { code: 'under30PerHour', numbers: { mL: 150, hours: 6, rate: 25, limit: 30 } },
      { code: 'underHalfPerKg', numbers: { mL: 150, hours: 6, perKg: 0.35, kg: 70, limit: 0.5 } },
    ],
  };
  const scant = { amount: measured(150), evidence: little };

  test('a reviewer reads figures, definition and source, and no word for a person', async () => {
    const story = new RecordStory();
    await story.draft(0, scant);
    await show(story);
    const shown = screen.getByRole('article');
    for (const part of [
      /150 mL in 6 h: 25 mL\/h\. The unit's limit is 30 mL\/h/,
      /Source: state university nursing-skills page/,
      /Since the last emptying.*150 mL in 6 h, 25 mL\/h, 0\.35 mL\/kg\/h at 70 kg/,
      /Under 0\.5 mL\/kg\/h for 6 hours and more \(KDIGO 2012, Table 2; mean rate\)/,
      /A definition is of figures, not of a person/,
    ]) {
      expect(shown).toHaveTextContent(part);
    }
    expect(shown).not.toHaveTextContent(/normal|oligur|anur|injur|stage/i);
  });

  test('an aide reads the figures of the checks and no definition', async () => {
    const story = new RecordStory();
    await story.draft(0, scant);
    await show(story, aide);
    expect(screen.getByRole('article')).toHaveTextContent(/25 mL\/h/);
    expect(screen.getByRole('article')).not.toHaveTextContent(/KDIGO 2012, Table 2; mean rate/);
  });

  test('looking at it is noted, and at the queue too', async () => {
    const story = new RecordStory();
    await story.draft(0);
    await show(story);
    await expect
      .poll(() => types(story))
      .toEqual(expect.arrayContaining(['entry.viewed', 'page.viewed']));
  });

  test('keys move through the rack, and letters in a box stay letters', async () => {
    const story = new RecordStory();
    await story.draft(0, { bed: 'Bed 4' });
    await story.draft(5, { bed: 'Bed 5' });
    const user = await show(story);
    expect(inView()).toBe('Bed 4, 350 mL');
    await user.keyboard('j');
    expect(inView()).toBe('Bed 5, 350 mL');
    expect(screen.getByRole('button', { current: true })).toHaveFocus();
    await user.keyboard('{ArrowLeft}');
    expect(inView()).toBe('Bed 4, 350 mL');
    await user.keyboard('s');
    await user.type(screen.getByRole('textbox', { name: 'Reason' }), 'just a cjk word');
    expect(inView()).toBe('Bed 4, 350 mL');
    expect(await types(story)).not.toContain('entry.confirmed');
  });

  test('single keys can be switched off', async () => {
    const story = new RecordStory();
    await story.draft(0);
    await story.draft(5, { bed: 'Bed 5' });
    const user = await show(story);
    await user.click(screen.getByText('Keys'));
    await user.click(screen.getByRole('checkbox', { name: /Single keys/ }));
    await user.keyboard('jc');
    expect(inView()).toBe('Bed 4, 350 mL');
    expect(await types(story)).not.toContain('entry.confirmed');
  });
});

describe('When a nurse decides', () => {
  test('c confirms, the next entry is in view, u takes it back', async () => {
    const story = new RecordStory();
    await story.draft(0);
    await story.draft(5, { bed: 'Bed 5' });
    const user = await show(story);
    await user.keyboard('c');
    await saying(/Confirmed: Bed 4, 350 mL/);
    await expect.poll(inView).toBe('Bed 5, 350 mL');
    await user.keyboard('u');
    await saying(/Taken back: Bed 4/);
    await expect.poll(tiles).toHaveLength(2);
    expect(await types(story)).toEqual(
      expect.arrayContaining(['entry.confirmed', 'decision.undone']),
    );
  });

  test('an amendment needs a reason and a change, and keeps both numbers', async () => {
    const story = new RecordStory();
    await story.draft(0);
    const user = await show(story);
    await user.keyboard('a');
    const amount = screen.getByRole('spinbutton', { name: 'Amount (mL)' });
    expect(amount).toHaveFocus();
    await user.click(press('Keep the amendment'));
    expect(screen.getByRole('alert')).toHaveTextContent('Write a reason first.');
    await user.type(screen.getByRole('textbox', { name: 'Reason' }), 'read again');
    await user.click(press('Keep the amendment'));
    expect(screen.getByRole('alert')).toHaveTextContent('Change something first.');
    await user.clear(amount);
    await user.type(amount, '325');
    await user.click(press('Keep the amendment'));
    await saying(/Amended: Bed 4, 325 mL/);
    await user.keyboard('h');
    const history = screen.getByRole('region', { name: 'History, original first' });
    const steps = within(history).getAllByRole('listitem');
    expect(steps[0]).toHaveTextContent(/Drafted.*350 mL/);
    expect(steps[1]).toHaveTextContent(/Amended.*350 mL → 325 mL.*read again/);
  });

  test('time and bed are amended by the clock of the unit', async () => {
    const story = new RecordStory();
    await story.draft(0);
    const user = await show(story);
    await user.keyboard('a');
    const time = screen.getByRole('textbox', { name: 'Time (24 hours)' });
    expect(time).toHaveValue('0700');
    await user.clear(time);
    await user.type(time, '651');
    await user.selectOptions(screen.getByRole('combobox', { name: 'Bed' }), 'Bed 5');
    await user.type(screen.getByRole('textbox', { name: 'Reason' }), 'wrong bed');
    await user.click(press('Keep the amendment'));
    await saying(/Amended: Bed 5, 350 mL, 0651/);
  });

  test('a strike needs a reason, and the entry leaves the queue', async () => {
    const story = new RecordStory();
    await story.draft(0);
    const user = await show(story);
    await user.keyboard('s');
    await user.click(press('Strike it out'));
    expect(screen.getByRole('alert')).toHaveTextContent('Write a reason first.');
    await user.type(screen.getByRole('textbox', { name: 'Reason' }), 'wrong bed');
    await user.click(press('Strike it out'));
    await saying(/Struck out: Bed 4, 350 mL.*It no longer counts/);
    expect(await screen.findByText('Nothing waits for review.')).toBeVisible();
  });

  test('Escape leaves a slip, and nothing is written', async () => {
    const story = new RecordStory();
    await story.draft(0);
    const user = await show(story);
    await user.keyboard('s{Escape}');
    expect(screen.queryByRole('textbox', { name: 'Reason' })).toBeNull();
    expect(await types(story)).not.toContain('entry.struck');
  });

  test('several with nothing against them are confirmed at once', async () => {
    const story = new RecordStory();
    await story.draft(0);
    await story.draft(5, { bed: 'Bed 5' });
    await story.draft(10, { evidence: { ...evidence, findings: [{ code: 'aboveBag' }] } });
    const user = await show(story);
    expect(screen.getAllByRole('checkbox', { name: /Take along/ })).toHaveLength(2);
    await user.click(press(/Choose the 2/));
    await user.click(press(/Confirm 2/));
    await saying(/Confirmed: 2 entries/);
    await expect.poll(tiles).toHaveLength(1);
  });
});

describe('When the rules stand against it', () => {
  test('an author can not confirm, and reads why', async () => {
    const story = new RecordStory();
    await story.draft(0, { reader: nurse.initials });
    await show(story);
    expect(press(/^Confirm/)).toBeDisabled();
    expect(screen.getByText(/You made this entry/)).toBeVisible();
  });

  test('an aide can amend their own draft and decide nothing else', async () => {
    const story = new RecordStory();
    await story.draft(0);
    await show(story, aide);
    expect(press(/^Confirm/)).toBeDisabled();
    expect(press(/^Strike out/)).toBeDisabled();
    expect(press(/^Amend/)).toBeEnabled();
  });

  test('the second reviewer is told that another decided first', async () => {
    const story = new RecordStory();
    const { entry } = await story.draft(0);
    const seen = await story.book.find(entry);
    const user = await show(story);
    // The other device's event arrives between what this nurse saw and what she presses.
    const write = story.ledger.append.bind(story.ledger);
    const other = story.device();
    story.ledger.append = async (events) => {
      story.ledger.append = write;
      const fact = { type: 'entry.struck', entry, saw: seen!.head, reason: 'wrong bed' } as const;
      story.ms -= 1_000;
      await story.write(otherNurse, fact, other);
      story.ms += 1_000;
      return write(events);
    };
    await user.keyboard('c');
    await saying(/Not done: Bed 4, 350 mL.*Another reviewer \(QB, 0759\) decided first/);
    expect((await story.book.find(entry))?.status).toBe('entered-in-error');
  });
});

describe('When a nurse is needed now', () => {
  async function urgent() {
    const story = new RecordStory();
    await story.draft(0);
    const { entry } = await story.draft(5, { bed: 'Bed 5' });
    await story.draft(10, { amount: null, candidates: [millilitres(215), millilitres(250)] });
    await story.write(aide, {
      type: 'alert.raised',
      alert: newId(),
      code: 'blood',
      words: 'Tell the nurse: the urine looks red.',
      bed: 'Bed 5',
      walk: null,
      entry,
    });
    return story;
  }
  const shelf = () => screen.getByRole('region', { name: 'Needs a nurse now' });

  test('what is told and what is open stand first, in the shelf and in the rack', async () => {
    await show(await urgent());
    expect(shelf()).toHaveTextContent('Tell the nurse: the urine looks red.');
    expect(shelf()).toHaveTextContent('215 mL or 250 mL');
    const [first, second] = tiles();
    expect(first).toMatch(/Bed 5.*look/);
    expect(second).toMatch(/no amount.*open/);
  });

  test('the shelf stays while one bed and day is shown', async () => {
    const user = await show(await urgent());
    await user.click(screen.getByRole('radio', { name: 'One bed, one day' }));
    expect(shelf()).toBeVisible();
  });

  test('taking it is noted with what was done', async () => {
    const story = await urgent();
    const user = await show(story);
    await user.click(within(shelf()).getByText('Add a note'));
    await user.type(screen.getByRole('textbox', { name: /What you did/ }), 'seen with PW');
    await user.click(press('I know of it'));
    await saying(/Noted that you know of it/);
    const taken = (await story.events()).find(({ type }) => type === 'alert.taken');
    expect(taken).toMatchObject({ note: 'seen with PW', by: nurse });
  });

  test('an open number is settled from those that were heard', async () => {
    const user = await show(await urgent());
    await user.click(press('Settle it'));
    await user.click(within(screen.getByRole('group', { name: /heard/ })).getByText('250 mL'));
    await user.type(screen.getByRole('textbox', { name: 'Reason' }), 'asked TA');
    await user.click(press('Keep the amendment'));
    await saying(/Amended: Bed 4, 250 mL/);
    expect(shelf()).not.toHaveTextContent('Number still open');
  });

  test('an aide sees what is told and can not take it', async () => {
    await show(await urgent(), aide);
    expect(shelf()).toHaveTextContent('the urine looks red');
    expect(within(shelf()).queryByRole('button', { name: 'I know of it' })).toBeNull();
  });
});

describe('When one bed and day is shown', () => {
  test('confirmed and struck entries are there with their state', async () => {
    const story = new RecordStory();
    const { entry } = await story.draft(0);
    await story.draft(5, { bed: 'Bed 5' });
    const seen = await story.book.find(entry);
    await story.book.confirm(otherNurse, [seen!]);
    const user = await show(story);
    await user.click(screen.getByRole('radio', { name: 'One bed, one day' }));
    await expect.poll(tiles).toEqual([expect.stringMatching(/Bed 4 350 mL.*Confirmed/)]);
    expect(press(/^Confirm/)).toBeDisabled();
    expect(press(/^Amend/)).toBeEnabled();
    await user.keyboard('a');
    const amount = screen.getByRole('spinbutton', { name: 'Amount (mL)' });
    await user.clear(amount);
    await user.type(amount, '375');
    await user.type(screen.getByRole('textbox', { name: 'Reason' }), 'read again');
    await user.click(press('Keep the amendment'));
    await expect.poll(tiles).toEqual([expect.stringMatching(/375 mL.*Amended/)]);
  });
});

describe('When there is nothing to show', () => {
  test('an empty queue says so', async () => {
    await show(new RecordStory());
    expect(screen.getByRole('heading', { name: 'Nothing waits for review.' })).toBeVisible();
  });

  test('a record that can not be read says so, and opens when tried again', async () => {
    const story = new RecordStory();
    await story.draft(0);
    const groups = story.ledger.groups.bind(story.ledger);
    story.ledger.groups = () => Promise.resolve({ ok: false, fault: 'storage_closed' });
    const user = await show(story);
    expect(await screen.findByRole('alert')).toHaveTextContent('could not be opened');
    story.ledger.groups = groups;
    await user.click(press('Try again'));
    await expect.poll(tiles).toHaveLength(1);
  });
});
