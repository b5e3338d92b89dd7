import { beforeAll, describe, expect, test } from 'vitest';
import { entryAt } from '../../tests/support/entries.ts';
import { aide, newId, nurse, Pen, storyStart } from '../../tests/support/ledgerStory.ts';
import { foldAlert, type Alert } from './alert.ts';
import type { Entry } from './entry.ts';
import { dueOf, handoverOf, usualDueRules } from './handover.ts';

const hour = 3_600_000;
const now = storyStart + 10 * hour;

async function alert(bed: string | null, taken: boolean): Promise<Alert> {
  const pen = new Pen();
  const id = newId();
  const words = 'Tell the nurse: no flow.';
  const raised = await pen.write(aide, {
    type: 'alert.raised',
    alert: id,
    code: 'no_flow',
    words,
    bed,
    walk: null,
    entry: null,
  });
  const took = await pen.write(nurse, { type: 'alert.taken', alert: id, note: '' });
  const made = foldAlert(taken ? [took, raised] : [raised]);
  if (made === null) throw new Error('these events make no alert');
  return made;
}

let entries: Entry[];
beforeAll(async () => {
  entries = [
    await entryAt(storyStart, 'urineCatheter', 400),
    await entryAt(storyStart + 6 * hour, 'oralFluid', 240),
    await entryAt(storyStart + hour, 'urineCatheter', 350, { bed: 'Bed 5', confirmed: false }),
    await entryAt(storyStart + hour, 'urineCatheter', 10, { bed: null, confirmed: false }),
  ];
});

describe('When a shift is handed over', () => {
  const handover = (alerts: readonly Alert[], beds = ['Bed 4', 'Bed 5', 'Bed 6']) =>
    handoverOf({
      beds,
      since: storyStart + 2 * hour,
      now,
      entries,
      alerts,
      rules: usualDueRules,
    });

  test('each bed has what changed since the last look, and its sums', () => {
    const [four, five, six] = handover([]).rows;
    expect(four?.fresh.map(({ kind }) => kind)).toEqual(['oralFluid']);
    expect(four?.sums.intake.confirmed.measured).toBe(240);
    expect(five?.fresh).toEqual([]);
    expect(six).toMatchObject({ fresh: [], alerts: [], due: [] });
  });

  test('told and taken is gone; told and not taken stands at its bed', async () => {
    const made = handover([await alert('Bed 6', false), await alert('Bed 6', true)]);
    expect(made.rows.map(({ alerts }) => alerts.length)).toEqual([0, 0, 1]);
  });

  test('what has no bed, or an unknown one, does not drop out', async () => {
    const made = handover([await alert(null, false), await alert('Bed 77', false)], ['Bed 4']);
    expect(made.rows.map(({ bed }) => bed)).toEqual(['Bed 4', 'Bed 5', 'Bed 77']);
    expect(made.rows[2]?.alerts).toHaveLength(1);
    expect(made.bedless).toMatchObject({ alerts: [{}], entries: [{}] });
  });

  test('who is due is told with how long ago, in minutes', () => {
    const [four, five] = handover([]).rows;
    expect(four?.due).toEqual([
      { kind: 'urineCatheter', last: storyStart, at: storyStart + 8 * hour, over: 120 },
    ]);
    expect(five?.due).toMatchObject([{ over: 60 }]);
  });

  test('a bed that has not reached its time is due in less than nothing', () => {
    expect(dueOf(entries.slice(0, 1), storyStart + hour, usualDueRules)).toMatchObject([
      { over: -420 },
    ]);
    expect(dueOf([], now, usualDueRules)).toEqual([]);
  });
});
