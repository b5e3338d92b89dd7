import { describe, expect, test } from 'vitest';
import { noon } from '../../../tests/support/walkBench.ts';
import { levelsInRound } from '../../conversation/practice/drillLevels.ts';
import { defaultContainers } from '../../measure/containers.ts';
import { millilitres as mL } from '../../measure/volume.ts';
import { builtIn } from '../../procedures/builtIn.ts';
import type { PracticeAttempt } from '../../procedures/practice.ts';
import { judgeDrill } from '../../procedures/readingDrill.ts';
import { recallResult, recallSaid, recallTold, startRecall } from '../../procedures/recall.ts';
import { attemptRows, seriesOf } from './attemptRows.ts';

const bag = builtIn[0]!;
const graduate = defaultContainers[0]!.item;
const containers = [graduate];

const told = bag.steps.reduce(recallTold, startRecall(bag.steps));
const clean = bag.steps.reduce(
  (recall, { call }) => recallSaid(recall, call).recall,
  startRecall(bag.steps),
);
const begun = recallSaid(startRecall(bag.steps), bag.steps[0]!.call).recall;

const recall = (id: string, state = clean, picked = 0): PracticeAttempt => ({
  kind: 'recall',
  procedure: bag.id,
  result: recallResult(state),
  picked,
  id,
  at: noon,
});
const drill = (id: string, count = levelsInRound): PracticeAttempt => ({
  kind: 'drill',
  container: graduate.id,
  seed: 77,
  tolerance: mL(25),
  readings: Array.from({ length: count }, (_, index) => {
    const said = mL(350 + index * 10);
    return { level: mL(350), said, judgement: judgeDrill(graduate, mL(350), said, 'nearest') };
  }),
  id,
  at: noon,
});
const guided: PracticeAttempt = { kind: 'guided', procedure: bag.id, steps: 3, id: 'g', at: noon };

const rows = (...attempts: PracticeAttempt[]) => attemptRows(attempts, containers, builtIn);

describe('When attempts become lines', () => {
  test.each([
    [
      guided,
      { what: 'Guided: Empty a urinary drainage bag', note: '3 steps heard, nothing judged' },
    ],
    [recall('r'), { right: 24, of: 24, critical: 0, note: '' }],
    [
      recall('r', told),
      { right: 0, of: 24, critical: bag.steps.filter(({ critical }) => critical).length, note: '' },
    ],
    [recall('r', begun, 1), { note: 'stopped before the end, 1 chosen from the list' }],
    [drill('d'), { right: 3, of: 6, critical: 0, note: '±25 mL, seed 77' }],
    [drill('d', 2), { right: 2, of: 2, note: 'stopped before the end, ±25 mL, seed 77' }],
  ])('%#', (attempt, line) => {
    expect(rows(attempt)[0]).toMatchObject(line);
  });

  test('the time is the one that the clock showed', () => {
    expect(rows(guided)[0]?.when).toBe('Jan 5 1300');
  });

  test('what is no longer in the unit keeps its id', () => {
    const [one, other] = attemptRows([guided, drill('d')], [], []);
    expect(one?.what).toBe('Guided: drainage-bag');
    expect(other?.what).toBe(`Reading drill: ${graduate.id}`);
  });
});

describe('When attempts are looked at over time', () => {
  test('whole rounds of one thing stand in their order; half ones and heard ones stay out', () => {
    const all = rows(
      guided,
      recall('a', told),
      drill('c'),
      recall('half', begun),
      recall('b'),
      guided,
    );
    expect(seriesOf(all)).toMatchObject([
      { what: 'Recall: Empty a urinary drainage bag', points: [{ id: 'a' }, { id: 'b' }] },
    ]);
  });
});
