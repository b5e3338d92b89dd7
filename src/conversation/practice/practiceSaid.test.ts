import { describe, expect, it } from 'vitest';
import { grammarFiles } from '../../../tests/support/grammarFiles.ts';
import { shortBag } from '../../../tests/support/practiceBench.ts';
import { graduate, noon } from '../../../tests/support/walkBench.ts';
import type { Expectation } from '../../grammar/expectation.ts';
import { createInterpreter } from '../../grammar/interpreter.ts';
import type { Hearing } from '../../speech/ear.ts';
import { practiceJudged } from './practiceSaid.ts';

const interpreter = createInterpreter(grammarFiles());
const recall: Expectation = {
  state: 'recall',
  steps: shortBag.steps.map(({ keywords }) => keywords),
};

function heard(expectation: Expectation, fit: Hearing['fit'], ...transcripts: string[]) {
  const alternatives = transcripts.map((transcript) => ({ transcript, confidence: 0.9 }));
  const hearing: Hearing = { ear: 'bundled', alternatives, fit, at: noon.ms };
  return practiceJudged(hearing, expectation, interpreter, noon);
}

describe('When a trainee names a step', () => {
  it.each([
    ['then I shut the valve'],
    ['the weather is nice'],
    ['take my gloves off'],
    ['explain'],
    ['open the spigot and let it run'],
  ])('%s: free words go on as they were said', (words) => {
    expect(heard(recall, 'taken', words)).toEqual({
      type: 'said.words',
      words,
      picked: false,
      at: noon,
    });
  });

  it.each(['doubtful', 'none'] as const)('an ear that is %s costs nothing but a try', (fit) => {
    expect(heard(recall, fit, 'shut the valve')).toMatchObject({ words: 'shut the valve' });
  });

  it('of several alternatives the first that names any step is taken', () => {
    expect(heard(recall, 'doubtful', 'shut the wolf', 'shut the valve')).toMatchObject({
      words: 'shut the valve',
    });
    expect(heard(recall, 'doubtful', 'good morning', 'good evening')).toMatchObject({
      words: 'good morning',
    });
  });

  it('a sound without words is no try', () => {
    expect(heard(recall, 'none')).toMatchObject({ type: 'said.talk', words: '' });
  });

  it.each([
    ['tell me', 'said.tell'],
    ["I don't know", 'said.tell'],
    ['why', 'said.why'],
    ['say again', 'said.again'],
    ['hold on', 'said.hold'],
    ['what can I say', 'said.help'],
    ['something is wrong', 'said.wrong'],
    ['stop practice', 'said.stop'],
  ])('%s is a command', (words, type) => {
    expect(heard(recall, 'taken', words)).toMatchObject({ type });
  });
});

describe('When steps are called, or a level is read', () => {
  it.each([
    ['next', 'said.next'],
    ['why', 'said.why'],
    ['stop practice', 'said.stop'],
    ['shut the valve', 'said.talk'],
  ])('%s in guided practice', (words, type) => {
    expect(heard({ state: 'practice' }, 'taken', words)).toMatchObject({ type });
  });

  it('a volume goes on as at the bedside', () => {
    const reading: Expectation = { state: 'reading', container: graduate, ounceIn: 30, fills: [] };
    expect(heard(reading, 'taken', 'three hundred fifty')).toMatchObject({
      type: 'said.volume',
      volume: { mL: 350 },
    });
  });
});
