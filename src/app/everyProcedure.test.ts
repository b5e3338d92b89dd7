import { describe, expect, test } from 'vitest';
import { newId } from '../../tests/support/ledgerStory.ts';
import { typedWalk } from '../../tests/support/typedWalk.ts';
import type { EntryDrafted } from '../charting/events.ts';
import type { WalkContext } from '../conversation/walkContext.ts';
import { builtIn } from '../procedures/builtIn.ts';
import { siblingUuid } from '../charting/uuid.ts';
import { entryFacts } from './entryFacts.ts';

const ids = { walk: newId(), entry: newId(), event: newId() };

const draftsOf = (context: WalkContext | undefined): EntryDrafted[] => {
  if (context === undefined) throw new Error('nothing was saved');
  return entryFacts({ ...context, ids }).filter(
    (fact): fact is EntryDrafted => fact.type === 'entry.drafted',
  );
};

/** What is said at the step that gets the amount, and the entry that comes of it. */
const walks = [
  ['drainage-bag', 'read', ['three fifty', 'correct'], { method: 'measured', mL: 350 }],
  ['leg-bag', 'read', ['four hundred', 'correct'], { method: 'measured', mL: 400 }],
  ['urinal', 'read', ['two hundred fifty', 'correct'], { method: 'measured', mL: 250 }],
  ['bedpan-hat', 'read', ['three hundred', 'correct'], { method: 'measured', mL: 300 }],
  ['emesis', 'read', ['two hundred', 'correct'], { method: 'measured', mL: 200 }],
  ['ostomy-pouch', 'read', ['four hundred', 'correct'], { method: 'measured', mL: 400 }],
  ['weighed-pad', 'weigh', ['four hundred twelve grams', 'correct'], { mL: 350 }],
  ['unmeasured-episode', 'count', ['correct'], { method: 'unmeasured', count: 1 }],
  [
    'oral-intake',
    'intake',
    ['coffee, one hundred left', 'correct', "that's all", 'correct'],
    { method: 'measured', mL: 140, fills: [140] },
  ],
] as const;

test('Every procedure that comes with the program stands in this table', () => {
  expect(walks.map(([id]) => id).sort()).toEqual(builtIn.map(({ id }) => id).sort());
});

describe.each(walks)('When %s is walked by words alone', (id, _, said, amount) => {
  test('it ends with one entry that was read back, named by its procedure', async () => {
    const walk = typedWalk(id);
    const at = walk
      .context()
      .procedure.steps.find(({ kind }) => ['reading', 'weigh', 'count', 'intake'].includes(kind));
    await walk.until(at?.id ?? '');
    await walk.say(...said);
    await walk.toEnd();
    expect(walk.state()).toBe('done');
    const drafts = draftsOf(walk.saved[0]);
    expect(drafts).toMatchObject([{ procedure: id, reader: 'MK', amount, candidates: [] }]);
    expect(drafts[0]?.readAt).not.toBeNull();
    expect(drafts[0]?.evidence?.readBack).toMatch(/Correct\?/);
    expect(drafts[0]?.evidence?.answer).toBe('correct');
  });

  test('nothing is agreed to by "yes", "okay" or silence', async () => {
    const walk = typedWalk(id);
    const { procedure } = walk.context();
    const at = procedure.steps.find(({ kind }) =>
      ['reading', 'weigh', 'count', 'intake'].includes(kind),
    );
    await walk.until(at?.id ?? '');
    await walk.say(...said.slice(0, -1));
    await walk.say('yes', 'okay', 'that is right dear');
    await walk.pass(11_999);
    expect(walk.context()).toMatchObject({ settled: null, counted: null });
    expect(walk.context().procedure.steps[walk.context().index]?.id).toBe(at?.id);
  });
});

describe('When a pad was weighed', () => {
  test('both weights stand in the entry, and what was heard', async () => {
    const walk = typedWalk('weighed-pad');
    await walk.until('weigh');
    await walk.say('four hundred twelve', 'correct');
    await walk.toEnd();
    const [draft] = draftsOf(walk.saved[0]);
    expect(draft?.evidence).toMatchObject({
      working: { code: 'weighedPad', numbers: { wetGrams: 412, dryGrams: 62 } },
      heard: [{ made: 350, alternatives: [{ transcript: 'four hundred twelve' }] }],
      readBack: 'four hundred twelve grams: four, one, two. Correct?',
    });
    expect(draft).toMatchObject({ kind: 'urinePad', container: 'Pad, large', bag: null });
  });
});

describe('When a check fails', () => {
  test.each([
    ['weighed-pad', 'soil-check', 'it is soiled'],
    ['weighed-pad', 'weigh', 'the pad is soiled'],
    ['bedpan-hat', 'soil-check', 'stool in the pan'],
  ])('%s at %s: "%s" goes on as an episode, gloves still on', async (id, step, words) => {
    const walk = typedWalk(id);
    await walk.until(step);
    await walk.say(words);
    expect(walk.said()).toMatch(/^Then it is not measured\. We go on with: Count an episode/);
    const { procedure, index } = walk.context();
    expect(procedure.id).toBe('unmeasured-episode');
    expect(procedure.steps[index - 1]?.id).toBe('gloves-on');
    await walk.until('count');
    await walk.say('correct');
    await walk.toEnd();
    expect(draftsOf(walk.saved[0])).toMatchObject([
      {
        procedure: 'unmeasured-episode',
        amount: { method: 'unmeasured', count: 1 },
        container: null,
        note: expect.stringContaining(words) as string,
      },
    ]);
  });

  test('"go back" right after it takes the handover back', async () => {
    const walk = typedWalk('weighed-pad');
    await walk.until('soil-check');
    await walk.say('it is soiled', 'go back');
    expect(walk.said()).toMatch(/^Back to: Weigh a wet pad\./);
    expect(walk.context()).toMatchObject({ procedure: { id: 'weighed-pad' }, handover: null });
    await walk.say('next step');
    await walk.say('four hundred twelve', 'correct');
    expect(walk.context().settled?.amount).toBe(350);
  });

  test('the phrase is talk where no check is called', async () => {
    const walk = typedWalk('weighed-pad');
    await walk.until('gloves-on');
    await walk.say('it is soiled');
    expect(walk.context()).toMatchObject({ handover: null, talk: 'it is soiled' });
  });
});

describe('When a tray holds measured and estimated parts', () => {
  test('they make two entries, never one figure', async () => {
    const walk = typedWalk('oral-intake');
    await walk.until('intake');
    await walk.say('juice, half');
    expect(walk.said()).toBe('juice, half: sixty milliliters. Correct?');
    await walk.say('correct', 'coffee, one hundred left', 'correct', 'ice chips all', 'correct');
    await walk.say("that's all");
    expect(walk.said()).toBe(
      'All together: one hundred forty milliliters measured, and one hundred eighty milliliters estimated. Correct?',
    );
    await walk.say('correct');
    await walk.toEnd();
    const drafts = draftsOf(walk.saved[0]);
    expect(drafts).toMatchObject([
      { entry: ids.entry, amount: { method: 'measured', mL: 140, fills: [140] } },
      {
        entry: siblingUuid(ids.entry, 0),
        amount: { method: 'estimated', mL: 180, fills: [60, 120] },
      },
    ]);
    expect(drafts[0]?.evidence?.working).toEqual({
      code: 'tray',
      numbers: {
        '1 juice served mL': 120,
        '1 juice estimated mL': 60,
        '2 coffee served mL': 240,
        '2 coffee left mL': 100,
        '2 coffee measured mL': 140,
        '3 ice-chips served mL': 240,
        '3 ice-chips estimated mL': 120,
      },
    });
  });
});

describe('When something is wrong at a read-back', () => {
  test.each([
    ['drainage-bag', 'read', ['three fifty']],
    ['weighed-pad', 'weigh', ['four hundred twelve']],
    ['oral-intake', 'intake', ['juice, half']],
  ])('%s: it is told, and the read-back comes again', async (id, step, said) => {
    const walk = typedWalk(id);
    await walk.until(step);
    await walk.say(...said);
    const before = walk.said();
    await walk.say('there is blood in the urine');
    expect(walk.context().alerts).toMatchObject([{ code: 'blood', kept: true }]);
    await walk.say('carry on');
    expect(walk.said()).toBe(before);
  });
});

describe('When the unit asks for initials by voice', () => {
  const roster = ['MK', 'TS'];

  test('what was spelled, read back and agreed to signs the entry', async () => {
    const walk = typedWalk('unmeasured-episode', { roster });
    await walk.until('count');
    await walk.say('correct');
    await walk.until('document');
    expect(walk.said()).toBe('Say your initials, letter by letter.');
    await walk.say('tango sierra');
    expect(walk.said()).toBe('T, S. Correct?');
    expect(walk.saved).toEqual([]);
    await walk.say('correct');
    expect(draftsOf(walk.saved[0])).toMatchObject([{ reader: 'TS' }]);
  });

  test('initials that are not on the roster are talk', async () => {
    const walk = typedWalk('unmeasured-episode', { roster });
    await walk.until('count');
    await walk.say('correct');
    await walk.until('document');
    await walk.say('alfa bravo');
    expect(walk.context()).toMatchObject({ reader: null, talk: 'alfa bravo' });
  });

  test('left open, the entry has no reader, and the reviewer asks', async () => {
    const walk = typedWalk('unmeasured-episode', { roster });
    await walk.until('count');
    await walk.say('correct');
    await walk.until('document');
    await walk.command('next');
    expect(draftsOf(walk.saved[0])).toMatchObject([{ reader: null }]);
  });
});
