import { describe, expect, it } from 'vitest';
import { builtIn } from './builtIn.ts';
import { recallResult, recallSaid, recallTold, startRecall, stepsNamed } from './recall.ts';

const [bag] = builtIn;
if (bag === undefined) throw new Error('no procedures');
const { steps } = bag;
const at = (id: string) => ({ ...startRecall(steps), next: steps.findIndex((s) => s.id === id) });

describe('When a step is named in the words of its own call', () => {
  for (const { id, steps: own } of builtIn) {
    it(`${id}: the step is found, and no other that is another act`, () => {
      const act = (step: string | undefined): string | undefined =>
        step === 'wash-hands' ? 'clean-hands' : step;
      const named = own.map(({ call }) => [
        ...new Set(stepsNamed(own, call).map((index) => act(own[index]?.id))),
      ]);
      expect(named).toEqual(own.map((step) => [act(step.id)]));
    });
  }
});

describe('When a trainee uses other words', () => {
  it.each([
    ['close-tap', 'then I shut the valve'],
    ['close-tap', 'close the drain'],
    ['wipe-tap', 'wipe the spout with alcohol'],
    ['open-tap', 'now I open the spigot'],
    ['open-tap', 'let the bag drain'],
    ['holder', 'the tip goes back in the sleeve'],
    ['flat', 'put it on a flat counter'],
    ['read', 'get down to eye level and read it'],
    ['pour', 'flush the urine down the toilet'],
    ['gloves-on', 'put my gloves on'],
    ['gloves-off', 'take off my gloves'],
    ['wash-hands', 'wash my hands'],
    ['document', 'write it on the sheet'],
  ])('%s: %s', (id, said) => {
    expect(recallSaid(at(id), said).judgement).toMatchObject({ verdict: 'right', named: id });
  });

  it('gloves off are not gloves on', () => {
    expect(recallSaid(at('gloves-on'), 'take my gloves off').judgement.named).toBe('gloves-off');
  });

  it.each(['', 'I do not know', 'hmm', 'the weather is nice', '350', '水'])(
    'words that name no step change nothing: %j',
    (said) => {
      const recall = at('close-tap');
      const after = recallSaid(recall, said);
      expect(after.judgement.verdict).toBe('unclear');
      expect(after.recall).toBe(recall);
    },
  );
});

describe('When the order is wrong', () => {
  it('tells the passed-over steps, the critical ones apart', () => {
    const { recall, judgement } = recallSaid(at('close-tap'), 'put it on a flat surface');
    expect(judgement).toEqual({
      verdict: 'tooEarly',
      named: 'flat',
      skipped: ['close-tap', 'wipe-tap', 'holder', 'bed-low'],
      criticalSkipped: ['close-tap', 'wipe-tap', 'holder'],
    });
    expect(recall.next).toBe(at('close-tap').next);
    expect(recallResult(recall)).toMatchObject({
      outOfOrder: [{ named: 'flat', due: 'close-tap' }],
      criticalPassedOver: ['close-tap', 'wipe-tap', 'holder'],
      clean: false,
    });
  });

  it('catches wiping before closing', () => {
    expect(recallSaid(at('close-tap'), 'wipe the tap').judgement).toMatchObject({
      verdict: 'tooEarly',
      criticalSkipped: ['close-tap'],
    });
  });

  it('catches writing with gloves on', () => {
    const { judgement } = recallSaid(at('gloves-off'), 'record it');
    expect(judgement).toMatchObject({
      verdict: 'tooEarly',
      criticalSkipped: ['gloves-off', 'wash-hands'],
    });
  });

  it('knows a step that was named already', () => {
    expect(recallSaid(at('wipe-tap'), 'close the tap').judgement.verdict).toBe('again');
  });
});

describe('When a recall is carried through', () => {
  it('is clean when each step is named in its turn', () => {
    const end = steps.reduce(
      (recall, { call }) => recallSaid(recall, call).recall,
      startRecall(steps),
    );
    expect(recallResult(end)).toMatchObject({ complete: true, clean: true, missed: [] });
    expect(recallSaid(end, 'wash my hands').judgement.verdict).toBe('unclear');
    expect(recallTold(end)).toBe(end);
  });

  it('counts what had to be told as missed, the critical ones apart', () => {
    const told = steps.reduce(recallTold, startRecall(steps));
    const result = recallResult(told);
    expect(result.missed).toHaveLength(steps.length);
    expect(result.criticalMissed).toEqual(steps.filter((s) => s.critical).map((s) => s.id));
    expect(result).toMatchObject({ complete: true, clean: false, right: [] });
  });
});
