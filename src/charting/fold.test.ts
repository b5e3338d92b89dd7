// Longer than 400 lines: each rule of the fold is tried with its neighbours, and they share one story.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  aide,
  at,
  draftFact,
  newId,
  nurse,
  ordersOf,
  otherNurse,
  Pen,
  storyStart,
} from '../../tests/support/ledgerStory.ts';
import { millilitres } from '../measure/volume.ts';
import type { Author, EntryDrafted, LedgerEvent } from './events.ts';
import { foldEntry } from './fold.ts';
import { strictRules } from './reviewRules.ts';

const volume = (mL: number) =>
  ({ method: 'measured', mL: millilitres(mL), fills: [millilitres(mL)] }) as const;

async function drafted(over: Partial<EntryDrafted> = {}) {
  const pen = new Pen();
  const draft = await pen.write(aide, draftFact(over));
  const { entry } = draft;
  const confirm = (by: Author, saw: string = draft.id) =>
    pen.write(by, { type: 'entry.confirmed', entry, saw });
  const amend = (by: Author, mL: number, was: number, saw: string = draft.id, reason = 'misread') =>
    pen.write(by, {
      type: 'entry.amended',
      entry,
      saw,
      reason,
      changes: { amount: { was: volume(was), is: volume(mL) } },
    });
  const strike = (by: Author, saw: string = draft.id, reason = 'wrong bed') =>
    pen.write(by, { type: 'entry.struck', entry, saw, reason });
  const undo = (by: Author, undoes: string, saw = undoes) =>
    pen.write(by, { type: 'decision.undone', entry, saw, undoes });
  return { pen, draft, entry, confirm, amend, strike, undo };
}

const fold = (events: readonly LedgerEvent[], rules = strictRules) => foldEntry(events, rules);
const codes = (events: readonly LedgerEvent[], rules = strictRules) =>
  fold(events, rules).refused.map(({ code }) => code);

describe('When an entry is only drafted', () => {
  test('it is preliminary and misses nothing', async () => {
    const { draft } = await drafted();
    expect(fold([draft]).entry).toMatchObject({
      status: 'preliminary',
      head: draft.id,
      missing: [],
      lag: 1_000,
    });
  });

  test.each([
    ['kind', 'kind'],
    ['amount', 'amount'],
    ['readAt', 'readAt'],
    ['reader', 'reader'],
    ['bed', 'bed'],
  ] as const)('without its %s no nurse can confirm it', async (field, missing) => {
    const { draft, confirm } = await drafted({ [field]: null });
    const { entry, refused } = fold([draft, await confirm(nurse)]);
    expect(entry).toMatchObject({ status: 'preliminary', missing: [missing] });
    expect(refused).toMatchObject([{ code: 'entry_incomplete' }]);
  });

  test('an unmeasured mark stands for an amount', async () => {
    const { draft, confirm } = await drafted({ amount: { method: 'unmeasured', count: 1 } });
    expect(fold([draft, await confirm(nurse)]).entry?.status).toBe('final');
  });

  test('a reading after its record has no time, and the draft is named', async () => {
    const { draft } = await drafted({ readAt: at(storyStart + 3_600_000) });
    const { entry, refused } = fold([draft]);
    expect(entry).toMatchObject({ readAt: null, missing: ['readAt'], status: 'preliminary' });
    expect(refused).toMatchObject([{ code: 'reading_in_future', event: { id: draft.id } }]);
  });

  test('the author sets a parked amount, and it still waits for a nurse', async () => {
    const { pen, draft, entry } = await drafted({
      amount: null,
      candidates: [millilitres(315), millilitres(350)],
    });
    const settled = await pen.write(aide, {
      type: 'entry.amended',
      entry,
      saw: draft.id,
      reason: 'settled after washing',
      changes: { amount: { was: null, is: volume(350) } },
    });
    const folded = fold([draft, settled]);
    expect(folded.entry).toMatchObject({ status: 'preliminary', missing: [], amount: { mL: 350 } });
    expect(folded.refused).toEqual([]);
  });
});

describe('When a decision is made', () => {
  test('a nurse confirms: final, with who and when', async () => {
    const { draft, confirm } = await drafted();
    const decision = await confirm(nurse);
    expect(fold([draft, decision]).entry).toMatchObject({
      status: 'final',
      head: decision.id,
      confirmedBy: nurse,
      confirmedAt: decision.at,
    });
  });

  test('amending after confirmation makes amended, and keeps the original first', async () => {
    const { draft, confirm, amend } = await drafted();
    const confirmed = await confirm(nurse);
    const amended = await amend(otherNurse, 375, 350, confirmed.id);
    const { entry } = fold([amended, confirmed, draft]);
    expect(entry).toMatchObject({ status: 'amended', amount: { mL: 375 }, confirmedBy: nurse });
    expect(entry?.history.map(({ id }) => id)).toEqual([draft.id, confirmed.id, amended.id]);
    expect(entry?.draft.amount).toEqual(volume(350));
  });

  test('amending before confirmation leaves it preliminary', async () => {
    const { draft, amend } = await drafted();
    expect(fold([draft, await amend(nurse, 375, 350)]).entry?.status).toBe('preliminary');
  });

  test('an aide does not confirm, strike, or amend what is another aide’s', async () => {
    const { draft, confirm, strike, amend } = await drafted();
    const stranger: Author = { initials: 'ZZ', role: 'aide' };
    const tries = [await confirm(stranger), await strike(aide), await amend(stranger, 375, 350)];
    expect(fold([draft, ...tries]).entry?.status).toBe('preliminary');
    expect(codes([draft, ...tries])).toEqual(['role_forbids', 'role_forbids', 'role_forbids']);
  });

  test('the set-up role decides nothing', async () => {
    const { draft, confirm } = await drafted();
    expect(codes([draft, await confirm({ initials: 'SU', role: 'setup' })])).toEqual([
      'role_forbids',
    ]);
  });

  test('a refused decision does not stand in the way of an allowed one', async () => {
    const { draft, confirm } = await drafted();
    const refused = await confirm(aide);
    const taken = await confirm(nurse);
    expect(fold([draft, refused, taken]).entry).toMatchObject({ status: 'final', head: taken.id });
  });

  test.each([
    ['drafted it', { reader: 'XY' }, aide.initials],
    ['read the level', { reader: 'RN' }, 'RN'],
  ])('the nurse who %s does not confirm it', async (_, over, initials) => {
    const { draft, confirm } = await drafted(over);
    expect(codes([draft, await confirm({ initials, role: 'nurse' })])).toEqual([
      'reviewer_is_author',
    ]);
  });

  test('where the unit allows it the author confirms, only at the time it was allowed', async () => {
    const { draft, confirm } = await drafted();
    const own = await confirm({ initials: 'TA', role: 'nurse' });
    const spans = (from: number, until: number | null) => ({ ownReview: [{ from, until }] });
    expect(codes([draft, own], spans(storyStart, null))).toEqual([]);
    expect(codes([draft, own], spans(storyStart, own.at.ms))).toEqual(['reviewer_is_author']);
    expect(codes([draft, own], spans(own.at.ms, own.at.ms + 1))).toEqual([]);
  });

  test('a blank reason changes and strikes nothing', async () => {
    const { draft, amend, strike } = await drafted();
    const tries = [await amend(nurse, 375, 350, draft.id, ' '), await strike(nurse, draft.id, '')];
    expect(codes([draft, ...tries])).toEqual(['reason_missing', 'reason_missing']);
  });

  test.each([
    ['names an old value that did not stand there', 375, 400],
    ['changes nothing', 350, 350],
  ])('an amendment that %s is refused', async (_, mL, was) => {
    const { draft, amend } = await drafted();
    expect(codes([draft, await amend(nurse, mL, was)])).toEqual(['change_mismatch']);
  });

  test('an amendment to a future time is refused', async () => {
    const { pen, draft, entry } = await drafted();
    const late = await pen.write(nurse, {
      type: 'entry.amended',
      entry,
      saw: draft.id,
      reason: 'time',
      changes: { readAt: { was: at(storyStart), is: at(storyStart + 7_200_000) } },
    });
    expect(codes([draft, late])).toEqual(['reading_in_future']);
  });

  test('time, kind, bed and reader can be amended together', async () => {
    const { pen, draft, entry } = await drafted();
    const moved = await pen.write(nurse, {
      type: 'entry.amended',
      entry,
      saw: draft.id,
      reason: 'wrong bed',
      changes: {
        bed: { was: 'Bed 4', is: 'Bed 5' },
        kind: { was: 'urineCatheter', is: 'urineVoided' },
        readAt: { was: at(storyStart), is: at(storyStart - 60_000) },
        reader: { was: 'TA', is: 'TB' },
      },
    });
    expect(fold([moved, draft]).entry).toMatchObject({
      bed: 'Bed 5',
      kind: 'urineVoided',
      readAt: at(storyStart - 60_000),
      reader: 'TB',
      lag: 61_000,
    });
  });

  test('nothing follows entered-in-error', async () => {
    const { draft, strike, confirm, amend } = await drafted();
    const struck = await strike(nurse);
    const after = [await confirm(otherNurse, struck.id), await amend(nurse, 375, 350, struck.id)];
    expect(codes([draft, struck, ...after])).toEqual(['status_forbids', 'status_forbids']);
  });
});

describe('When a decision is taken back', () => {
  test.each([
    ['confirm', 'amended', 'reopened'],
    ['amend', 'preliminary', 'preliminary'],
    ['strike', 'preliminary', 'preliminary'],
  ] as const)(
    '%s: what stood before, now %s (%s), and both events in the history',
    async (act, status, state) => {
      const story = await drafted();
      const made = act === 'amend' ? await story.amend(nurse, 375, 350) : await story[act](nurse);
      const undone = await story.undo(nurse, made.id);
      const { entry, refused } = fold([undone, made, story.draft]);
      expect(refused).toEqual([]);
      expect(entry).toMatchObject({
        status,
        state,
        amount: { mL: 350 },
        confirmedBy: null,
        head: undone.id,
      });
      expect(entry?.history.map(({ id }) => id)).toEqual([story.draft.id, made.id, undone.id]);
    },
  );

  test.each(['amend', 'strike'] as const)(
    '%s of what was final leaves it amended and confirmed, never final again',
    async (act) => {
      const story = await drafted();
      const confirmed = await story.confirm(nurse);
      const made =
        act === 'amend'
          ? await story.amend(otherNurse, 375, 350, confirmed.id)
          : await story.strike(otherNurse, confirmed.id);
      const undone = await story.undo(otherNurse, made.id);
      expect(fold([story.draft, confirmed, made, undone]).entry).toMatchObject({
        status: 'amended',
        state: 'amended',
        amount: { mL: 350 },
        confirmedBy: nurse,
      });
    },
  );

  test('a confirmation that is given again makes amended, and counts', async () => {
    const { draft, confirm, amend, undo } = await drafted();
    const first = await confirm(nurse);
    const undone = await undo(nurse, first.id);
    const mended = await amend(nurse, 375, 350, undone.id);
    const open = fold([draft, first, undone, mended]).entry;
    expect(open).toMatchObject({ state: 'reopened', amount: { mL: 375 }, confirmedBy: null });
    const again = await confirm(otherNurse, mended.id);
    expect(fold([draft, first, undone, mended, again]).entry).toMatchObject({
      status: 'amended',
      state: 'amended',
      confirmedBy: otherNurse,
      confirmedAt: again.at,
    });
  });

  test('an aide does not amend what waits again', async () => {
    const { draft, confirm, amend, undo } = await drafted();
    const first = await confirm(nurse);
    const undone = await undo(nurse, first.id);
    const own = await amend(aide, 375, 350, undone.id);
    expect(codes([draft, first, undone, own])).toEqual(['role_forbids']);
  });

  test('only the last decision, and only by who made it', async () => {
    const { draft, confirm, amend, undo } = await drafted();
    const confirmed = await confirm(nurse);
    const amended = await amend(otherNurse, 375, 350, confirmed.id);
    const wrong = [
      await undo(nurse, confirmed.id, amended.id),
      await undo(nurse, amended.id),
      await undo(nurse, draft.id, amended.id),
    ];
    expect(codes([draft, confirmed, amended, ...wrong])).toEqual([
      'undo_not_last',
      'undo_not_own',
      'undo_not_last',
    ]);
  });

  test('an undo is not undone; the decision is made again', async () => {
    const { draft, confirm, undo } = await drafted();
    const first = await confirm(nurse);
    const undone = await undo(nurse, first.id);
    const twice = await undo(nurse, undone.id);
    const again = await confirm(nurse, undone.id);
    const { entry, refused } = fold([draft, first, undone, twice, again]);
    expect(refused).toMatchObject([{ code: 'undo_not_last' }]);
    expect(entry).toMatchObject({ status: 'amended', head: again.id });
  });
});

describe('When two reviewers decide at once', () => {
  test('the earlier stands; the later is refused and named, in any order of arrival', async () => {
    const story = await drafted();
    const other = new Pen(story.pen.ms + 500);
    const first = await story.confirm(nurse);
    const second = await other.write(otherNurse, {
      type: 'entry.struck',
      entry: story.entry,
      saw: story.draft.id,
      reason: 'spilled',
    });
    for (const events of ordersOf<LedgerEvent>([story.draft, first, second])) {
      const { entry, refused } = fold(events);
      expect(entry).toMatchObject({ status: 'final', confirmedBy: nurse });
      expect(refused).toMatchObject([
        { code: 'decided_already', because: first.id, event: { id: second.id } },
      ]);
    }
  });

  test('what was built on the refused decision is refused with it', async () => {
    const { draft, confirm, strike, undo } = await drafted();
    const first = await confirm(nurse);
    const second = await strike(otherNurse);
    const onTop = await undo(otherNurse, second.id);
    expect(fold([draft, first, second, onTop]).refused).toMatchObject([
      { code: 'decided_already', because: first.id },
      { code: 'decided_already', because: second.id },
    ]);
  });
});

describe('When events come from elsewhere', () => {
  test('a decision waits for its draft, and is not lost', async () => {
    const { draft, confirm } = await drafted();
    const decision = await confirm(nurse);
    expect(fold([decision])).toMatchObject({
      entry: null,
      refused: [{ code: 'version_unknown' }],
    });
    expect(fold([decision, draft]).entry?.status).toBe('final');
  });

  test('a decision on a version that has not arrived waits', async () => {
    const { draft, confirm } = await drafted();
    expect(codes([draft, await confirm(nurse, newId())])).toEqual(['version_unknown']);
  });

  test('a clock set back between draft and decision changes nothing', async () => {
    const story = await drafted();
    story.pen.ms -= 7_200_000;
    const decision = await story.confirm(nurse);
    expect(fold([decision, story.draft]).entry).toMatchObject({ status: 'final' });
  });

  test('a second draft of the same entry is refused', async () => {
    const { draft, pen, entry } = await drafted();
    const again = await pen.write(aide, draftFact({ entry, bed: 'Bed 9' }));
    expect(fold([again, draft])).toMatchObject({
      entry: { bed: 'Bed 4' },
      refused: [{ code: 'drafted_twice', because: draft.id }],
    });
  });

  test('an event of a newer version is set aside with its code', async () => {
    const { draft, confirm } = await drafted();
    const newer = { ...(await confirm(nurse)), v: 99 };
    expect(fold([draft, newer])).toMatchObject({
      entry: { status: 'preliminary' },
      refused: [{ code: 'version_newer' }],
    });
  });

  test('the same event twice counts once, and views stand apart', async () => {
    const { draft, confirm, pen, entry } = await drafted();
    const viewed = await pen.write(nurse, { type: 'entry.viewed', entry });
    const decision = await confirm(nurse);
    const folded = fold([decision, draft, viewed, decision, draft, viewed]);
    expect(folded.refused).toEqual([]);
    expect(folded.entry?.views).toEqual([viewed]);
  });
});

describe('When events are shuffled, doubled and come in parts', { timeout: 60_000 }, () => {
  const steps = fc.array(
    fc.record({
      act: fc.constantFrom('confirm', 'amend', 'strike', 'undo', 'view'),
      who: fc.constantFrom(aide, nurse, otherNurse),
      behind: fc.nat(3),
      jump: fc.integer({ min: -5_000, max: 5_000 }),
      mL: fc.constantFrom(350, 375, 400),
      was: fc.constantFrom(350, 375, 400),
    }),
    { maxLength: 8 },
  );

  async function storyOf(moves: typeof steps extends fc.Arbitrary<infer S> ? S : never) {
    const story = await drafted();
    const heads: string[] = [story.draft.id];
    const events: LedgerEvent[] = [story.draft];
    const pens = [story.pen, new Pen(story.pen.ms)];
    for (const { act, who, behind, jump, mL, was } of moves) {
      const saw = heads.at(-1 - behind) ?? story.draft.id;
      const pen = pens[behind % 2] ?? story.pen;
      pen.ms = Math.max(storyStart, pen.ms + jump);
      const { entry } = story;
      const fact = {
        confirm: { type: 'entry.confirmed', entry, saw },
        strike: { type: 'entry.struck', entry, saw, reason: 'r' },
        undo: { type: 'decision.undone', entry, saw, undoes: saw },
        view: { type: 'entry.viewed', entry },
        amend: {
          type: 'entry.amended',
          entry,
          saw,
          reason: 'r',
          changes: { amount: { was: volume(was), is: volume(mL) } },
        },
      } as const;
      const event = await pen.write(who, fact[act]);
      events.push(event);
      if (act !== 'view') heads.push(event.id);
    }
    return events;
  }

  test('the entry and the refusals are the same', async () => {
    await fc.assert(
      fc.asyncProperty(steps, fc.infiniteStream(fc.nat()), async (moves, picks) => {
        const events = await storyOf(moves);
        const shuffled = events
          .map((event) => ({ event, key: picks.next().value as number }))
          .sort((one, other) => one.key - other.key)
          .map(({ event }) => event);
        expect(fold([...shuffled, ...shuffled])).toEqual(fold(events));
      }),
      { numRuns: 200 },
    );
  });

  test('each decision either stands in the history or is refused, once', async () => {
    await fc.assert(
      fc.asyncProperty(steps, async (moves) => {
        const events = await storyOf(moves);
        const { entry, refused } = fold(events);
        const told = [
          ...(entry?.history ?? []),
          ...(entry?.views ?? []),
          ...refused.map(({ event }) => event),
        ].map(({ id }) => id);
        expect([...told].sort()).toEqual(events.map(({ id }) => id).sort());
      }),
      { numRuns: 200 },
    );
  });
});
