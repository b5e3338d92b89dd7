import { describe, expect, test } from 'vitest';
import { firstWalk } from '../../../demo/firstWalk.ts';
import { graduate } from '../../../tests/support/walkBench.ts';
import type { Expectation } from '../../grammar/expectation.ts';
import { millilitres } from '../../measure/volume.ts';
import drainageBag from '../../procedures/en-US/drainage-bag.json' with { type: 'json' };
import { freshMemory, nextLine, sentencesOf } from './walkScript.ts';

const reading: Expectation = { state: 'reading', container: graduate, ounceIn: 30, fills: [] };
const readback = (mL: number): Expectation => ({
  state: 'readback',
  container: graduate,
  ounceIn: 30,
  proposed: millilitres(mL),
});
const step: Expectation = { state: 'step' };

describe('When the simulated aide is to speak', () => {
  test('she says a wrong line first, disputes it, says the right one and agrees', () => {
    const wrong = nextLine(firstWalk, 'read', reading, freshMemory);
    expect(wrong?.words).toBe('three hundred milliliters');
    expect(nextLine(firstWalk, 'read', readback(300), freshMemory)?.words).toBe('no');
    const right = nextLine(firstWalk, 'read', reading, wrong?.then ?? freshMemory);
    expect(right?.words).toBe('three hundred fifty milliliters');
    expect(nextLine(firstWalk, 'read', readback(350), freshMemory)?.words).toBe('correct');
  });

  test('what was misheard is disputed, and the right line is said again', () => {
    const memory = { asides: [], readings: 2 };
    expect(nextLine(firstWalk, 'read', readback(315), memory)?.words).toBe('no');
    expect(nextLine(firstWalk, 'read', reading, memory)?.words).toBe(
      'three hundred fifty milliliters',
    );
  });

  test('she talks with the resident once, then goes on', () => {
    const talk = nextLine(firstWalk, 'explain', step, freshMemory);
    expect(talk).toMatchObject({ words: 'good morning dear', to: 'resident' });
    const on = nextLine(firstWalk, 'explain', step, talk?.then ?? freshMemory);
    expect(on).toMatchObject({ words: 'next step', to: 'assistant' });
  });

  test('she has nothing to say where the walk is on hold', () => {
    expect(nextLine(firstWalk, 'read', { state: 'held' }, freshMemory)).toBeNull();
  });

  test('every sentence is made ready, and each aside belongs to a step', () => {
    const sentences = sentencesOf(firstWalk);
    expect(sentences).toContain('good morning dear');
    expect(new Set(sentences).size).toBe(sentences.length);
    const steps = drainageBag.steps.map(({ id }) => id);
    expect(Object.keys(firstWalk.aside).filter((id) => !steps.includes(id))).toEqual([]);
  });
});
