import { describe, expect, test } from 'vitest';
import { folded, entryAt, estimated } from '../../tests/support/entries.ts';
import { aide, draftFact, newId, Pen, storyStart } from '../../tests/support/ledgerStory.ts';
import { foldAlert, type Alert } from '../charting/alert.ts';
import type { EntryDrafted } from '../charting/events.ts';
import type { Evidence } from '../charting/evidence.ts';
import { millilitres } from '../measure/volume.ts';
import { againstOf, queueOrder, weightOf } from './standing.ts';

const lateAfter = 15 * 60_000;

const evidence: Evidence = {
  heard: [
    {
      ear: 'bundled',
      at: 0,
      alternatives: [{ transcript: 'three fifty', confidence: 1 }],
      fit: 'taken',
      made: millilitres(350),
    },
  ],
  readBack: 'three hundred fifty milliliters. Correct?',
  answer: 'correct',
  tries: 1,
  findings: [],
  looks: [],
  working: null,
};

async function waiting(over: Partial<EntryDrafted> = {}) {
  return folded([await new Pen().write(aide, draftFact({ evidence, ...over }))]);
}

async function told(entry: string | null, walk: string | null = null): Promise<Alert> {
  const raised = { type: 'alert.raised', alert: newId(), code: 'blood', words: 'red' } as const;
  const alert = foldAlert([await new Pen().write(aide, { ...raised, bed: 'Bed 4', walk, entry })]);
  if (alert === null) throw new Error('no alert');
  return alert;
}

const codes = async (over: Partial<EntryDrafted>) =>
  againstOf(await waiting(over), [], lateAfter).map(({ code }) => code);

describe('When something stands against confirming in passing', () => {
  test.each<[string, Partial<EntryDrafted>, string[]]>([
    ['nothing, where it was read back and agreed to', {}, []],
    ['a missing amount', { amount: null }, ['missing']],
    ['an estimate', { amount: estimated(150) }, ['estimated']],
    ['three tries', { evidence: { ...evidence, tries: 3 } }, ['disputed']],
    ['no read-back', { evidence: { ...evidence, readBack: null } }, ['noReadBack']],
    [
      'a doubtful hearing',
      {
        evidence: { ...evidence, heard: evidence.heard.map((it) => ({ ...it, fit: 'doubtful' })) },
      },
      ['doubtful'],
    ],
    [
      'a finding that asks',
      { evidence: { ...evidence, findings: [{ code: 'aboveBag' }] } },
      ['finding'],
    ],
    [
      'a finding of a newer version',
      { evidence: { ...evidence, findings: [{ code: 'later' }] } },
      ['finding'],
    ],
    [
      'no finding that is only noted',
      { evidence: { ...evidence, findings: [{ code: 'soundAlike' }] } },
      [],
    ],
    ['nothing heard, where it was typed', { evidence: null }, []],
  ])('it is %s', async (_, over, expected) => {
    expect(await codes(over)).toEqual(expected);
  });

  test('it is late from one millisecond past the limit', async () => {
    const entry = await waiting();
    const lag = entry.lag ?? 0;
    expect(againstOf(entry, [], lag)).toEqual([]);
    expect(againstOf(entry, [], lag - 1)).toEqual([{ code: 'late', lag }]);
  });

  test('it is an alert of this entry or of its walk, and of no other', async () => {
    const walk = newId();
    const entry = await waiting({ walk });
    const against = (alert: Alert) => againstOf(entry, [alert], lateAfter);
    expect(against(await told(entry.id))).toEqual([{ code: 'alert' }]);
    expect(against(await told(null, walk))).toEqual([{ code: 'alert' }]);
    expect(against(await told(newId(), newId()))).toEqual([]);
    expect(against(await told(null))).toEqual([]);
  });
});

describe('When the queue is put in order', () => {
  test('the most serious stand first, and the oldest among equals', async () => {
    const plain = { confirmed: false };
    const late = await entryAt(storyStart + 3_000, 'urineCatheter', 1, plain);
    const early = await entryAt(storyStart + 1_000, 'urineCatheter', 2, plain);
    const guess = await entryAt(storyStart + 5_000, 'stoolLiquid', 3, {
      ...plain,
      amount: estimated(3),
    });
    const open = await entryAt(storyStart + 6_000, 'urineCatheter', 4, { ...plain, amount: null });
    const serious = await entryAt(storyStart + 9_000, 'urineCatheter', 5, plain);
    const alerts = [await told(serious.id)];
    const ordered = queueOrder([late, early, guess, open, serious], alerts, lateAfter);
    expect(ordered).toEqual([serious, open, guess, early, late]);
    expect(ordered.map((entry) => weightOf(againstOf(entry, alerts, lateAfter)))).toEqual([
      3, 2, 1, 0, 0,
    ]);
  });
});
