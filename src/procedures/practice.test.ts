import { describe, expect, it } from 'vitest';
import { defaultContainers } from '../measure/containers.ts';
import { millilitres as mL } from '../measure/volume.ts';
import { builtIn } from './builtIn.ts';
import { practiceScore } from './practice.ts';
import { drillTolerance, judgeDrill } from './readingDrill.ts';
import { recallResult, recallSaid, recallTold, startRecall } from './recall.ts';

const at = { ms: 0, offset: 0 };
const { steps } = builtIn[0]!;
const graduate = defaultContainers[0]!.item;

describe('When a round of practice is scored', () => {
  it('a recall counts each critical step once', () => {
    const early = recallSaid(startRecall(steps), 'put on gloves').recall;
    const told = recallTold(early);
    expect(
      practiceScore({
        kind: 'recall',
        id: 'a',
        at,
        procedure: 'drainage-bag',
        result: recallResult(told),
        picked: 0,
      }),
    ).toEqual({ right: 0, of: 1, criticalMissed: 2 });
  });

  it('a drill counts readings within the tolerance', () => {
    const readings = [350, 376].map((said) => ({
      level: mL(350),
      said: mL(said),
      judgement: judgeDrill(graduate, mL(350), mL(said), 'nearest'),
    }));
    expect(
      practiceScore({
        kind: 'drill',
        id: 'b',
        at,
        container: graduate.id,
        seed: 1,
        tolerance: drillTolerance,
        readings,
      }),
    ).toEqual({ right: 1, of: 2, criticalMissed: 0 });
  });

  it('a guided round is its steps', () => {
    expect(
      practiceScore({ kind: 'guided', id: 'c', at, procedure: 'drainage-bag', steps: 24 }),
    ).toEqual({ right: 24, of: 24, criticalMissed: 0 });
  });
});
