import { describe, expect, test } from 'vitest';
import { builtIn } from './builtIn.ts';
import type { Procedure } from './schema.ts';
import { successorsIn } from './successors.ts';

const chained = (id: string, otherwise?: string): Procedure => {
  const [first] = builtIn;
  if (first === undefined) throw new Error('no procedure');
  const [step, ...rest] = first.steps.map(({ otherwise: _, ...each }) => each);
  if (step === undefined) throw new Error('no step');
  const steps = [{ ...step, ...(otherwise !== undefined && { otherwise }) }, ...rest];
  return { ...first, id, steps };
};
const idsAfter = (all: readonly Procedure[], id: string) => {
  const procedure = all.find((each) => each.id === id);
  return procedure === undefined ? null : successorsIn(all, procedure).map((each) => each.id);
};

describe('When a check may fail', () => {
  test('a soiled pad and a spoilt pan hand over to the unmeasured episode, and to nothing else', () => {
    expect(idsAfter(builtIn, 'weighed-pad')).toEqual(['unmeasured-episode']);
    expect(idsAfter(builtIn, 'drainage-bag')).toEqual([]);
  });

  test('one after the other is found, and a ring ends', () => {
    const all = [chained('a', 'b'), chained('b', 'c'), chained('c', 'a'), chained('d')];
    expect(idsAfter(all, 'a')).toEqual(['b', 'c']);
    expect(idsAfter(all, 'c')).toEqual(['a', 'b']);
  });

  test('what is not there is passed over', () => {
    expect(idsAfter([chained('a', 'gone')], 'a')).toEqual([]);
  });
});
