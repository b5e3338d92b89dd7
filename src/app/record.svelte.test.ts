import { flushSync } from 'svelte';
import { describe, expect, onTestFinished, test } from 'vitest';
import { aide, newId, nurse, otherNurse } from '../../tests/support/ledgerStory.ts';
import { measured } from '../../tests/support/entries.ts';
import { RecordStory } from '../../tests/support/recordStory.ts';
import type { Entry } from '../charting/entry.ts';
import type { GroupList, ListState } from './GroupList.ts';

/** Read a list as a screen does, for as long as the test lasts. */
function follow<T extends { readonly id: string }>(list: GroupList<T>) {
  const seen: { items: readonly T[]; state: string }[] = [];
  const stop = $effect.root(() => {
    $effect(() => void seen.push({ items: list.items, state: list.state }));
  });
  flushSync();
  onTestFinished(stop);
  return {
    becomes: (state: ListState) => expect.poll(() => seen.at(-1)?.state).toBe(state),
    ids: () => seen.at(-1)?.items.map(({ id }) => id) ?? [],
    of: (id: string): T => {
      const found = seen.at(-1)?.items.find((item) => item.id === id);
      if (found === undefined) throw new Error('not in the list');
      return found;
    },
  };
}

async function storyWith(count: number) {
  const story = new RecordStory();
  const drafts = [];
  for (let place = 0; place < count; place += 1) drafts.push(await story.draft(place * 5));
  const queue = follow(story.book.queue);
  await queue.becomes('ready');
  const entryOf = async (id: string): Promise<Entry> => {
    const entry = await story.book.find(id);
    if (entry === null) throw new Error('no entry');
    return entry;
  };
  return { story, book: story.book, queue, ids: drafts.map(({ entry }) => entry), entryOf };
}

describe('When the queue is followed', () => {
  test('it holds what waits, and what is drafted later joins it', async () => {
    const { story, queue, ids } = await storyWith(2);
    expect(queue.ids()).toEqual(ids);
    const { entry } = await story.draft(20);
    await expect.poll(() => queue.ids()).toEqual([...ids, entry]);
  });

  test('what another device decides leaves it', async () => {
    const { story, queue, ids } = await storyWith(2);
    const [first = '', second] = ids;
    const { head } = queue.of(first);
    await story.write(
      otherNurse,
      { type: 'entry.confirmed', entry: first, saw: head },
      story.device(),
    );
    await expect.poll(() => queue.ids()).toEqual([second]);
  });

  test('a ledger that can not be read says so, and opens when tried again', async () => {
    const story = new RecordStory();
    await story.draft(1);
    const groups = story.ledger.groups.bind(story.ledger);
    story.ledger.groups = () => Promise.resolve({ ok: false, fault: 'storage_closed' });
    const queue = follow(story.book.queue);
    await queue.becomes('failed');
    story.ledger.groups = groups;
    story.book.queue.retry();
    await queue.becomes('ready');
    expect(queue.ids()).toHaveLength(1);
  });
});

describe('When a nurse decides', () => {
  test('several are confirmed at once, and taken back together', async () => {
    const { book, queue, ids } = await storyWith(3);
    const outcome = await book.confirm(
      nurse,
      ids.map((id) => queue.of(id)),
    );
    expect(outcome).toMatchObject({ act: 'confirm', kept: 'stored', refused: [] });
    expect(outcome.taken.map(({ id }) => id)).toEqual(ids);
    await expect.poll(() => queue.ids()).toEqual([]);
    expect(book.undoable).toBe(true);
    const undone = await book.undoLast(nurse);
    expect(undone.taken).toHaveLength(3);
    await expect.poll(() => queue.ids().sort()).toEqual([...ids].sort());
    expect(book.undoable).toBe(false);
  });

  test('an amendment keeps what was, and a strike its reason', async () => {
    const { book, queue, ids, entryOf } = await storyWith(1);
    const [id = ''] = ids;
    const change = { amount: { was: measured(350), is: measured(325) } };
    await book.amend(nurse, queue.of(id), change, 'read again');
    expect(await entryOf(id)).toMatchObject({ status: 'preliminary', amount: measured(325) });
    await book.strike(nurse, await entryOf(id), 'wrong bed');
    const struck = await entryOf(id);
    expect(struck.status).toBe('entered-in-error');
    expect(struck.history.map(({ type }) => type)).toEqual([
      'entry.drafted',
      'entry.amended',
      'entry.struck',
    ]);
  });

  test('the second of two reviewers is told who was first, and nothing is overwritten', async () => {
    const { story, book, queue, ids, entryOf } = await storyWith(1);
    const [id = ''] = ids;
    const seen = queue.of(id);
    story.ms += 1_000;
    const first = await story.write(
      otherNurse,
      { type: 'entry.struck', entry: id, saw: seen.head, reason: 'wrong bed' },
      story.device(),
    );
    story.ms += 1_000;
    const outcome = await book.confirm(nurse, [seen]);
    expect(outcome).toMatchObject({ kept: 'stored', taken: [] });
    expect(outcome.refused).toMatchObject([
      {
        about: { id, status: 'entered-in-error' },
        code: 'decided_already',
        first: { id: first.id },
      },
    ]);
    expect(await entryOf(id)).toMatchObject({ status: 'entered-in-error' });
    expect(book.undoable).toBe(false);
  });

  test('an aide who confirms is refused by the fold, not by the book', async () => {
    const { book, queue, ids } = await storyWith(1);
    const outcome = await book.confirm(aide, [queue.of(ids[0] ?? '')]);
    expect(outcome.refused).toMatchObject([{ code: 'role_forbids', first: null }]);
    expect(queue.ids()).toEqual(ids);
  });

  test('what can not be stored is told, and is in no list', async () => {
    const { story, book, queue, ids } = await storyWith(1);
    story.ledger.append = () => Promise.resolve({ ok: false, fault: 'storage_full' });
    const outcome = await book.confirm(nurse, [queue.of(ids[0] ?? '')]);
    expect(outcome).toMatchObject({ kept: 'memory', taken: [], refused: [] });
    expect(book.outcome).toEqual(outcome);
    expect(queue.ids()).toEqual(ids);
  });

  test('a clock that was set back is told, and nothing is written', async () => {
    const { story, book, queue, ids } = await storyWith(1);
    const before = (await story.events()).length;
    story.ms -= 24 * 3_600_000;
    const outcome = await book.confirm(nurse, [queue.of(ids[0] ?? '')]);
    expect(outcome).toMatchObject({ kept: 'refused', fault: 'clock_set_back', taken: [] });
    expect(await story.events()).toHaveLength(before);
  });
});

describe('When something is to be told', () => {
  test('the nurse who takes it is noted, and the second is told', async () => {
    const story = new RecordStory();
    const alert = newId();
    await story.write(aide, {
      type: 'alert.raised',
      alert,
      code: 'blood',
      words: 'Tell the nurse: red.',
      bed: 'Bed 4',
      walk: null,
      entry: null,
    });
    const alerts = follow(story.book.alerts);
    await alerts.becomes('ready');
    const open = alerts.of(alert);
    expect(await story.book.takeAlert(nurse, open, 'seen')).toMatchObject({ refused: [] });
    await expect.poll(() => alerts.ids()).toEqual([]);
    story.ms += 1_000;
    const second = await story.book.takeAlert(otherNurse, open, '');
    expect(second).toMatchObject({ taken: [], refused: [{ code: 'decided_already' }] });
  });
});

describe('When somebody looks', () => {
  test('an entry once, a page each time, with the name', async () => {
    const { story, book, queue, ids } = await storyWith(1);
    const entry = queue.of(ids[0] ?? '');
    await book.view(nurse, entry);
    await book.view(nurse, entry);
    await book.view(otherNurse, entry);
    await book.viewPage(nurse, 'sheet', 'Bed 4');
    const looks = (await story.events()).filter(({ type }) => type.endsWith('.viewed'));
    expect(looks.map(({ type, by }) => [type, by.initials]).sort()).toEqual([
      ['entry.viewed', otherNurse.initials],
      ['entry.viewed', nurse.initials],
      ['page.viewed', nurse.initials],
    ]);
    expect(await book.lastLook(nurse, 'sheet')).toBe(story.ms);
    expect(await book.lastLook(otherNurse, 'sheet')).toBeNull();
  });
});
