import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Reader } from '../../src/grammar/Reader.ts';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { recallGrammar } from '../../src/procedures/recallGrammar.ts';

const numbers = readFileSync(
  join(import.meta.dirname, '..', '..', 'grammars', 'en-US', 'numbers.gram'),
  'utf8',
);

describe('When a trainee names steps aloud', () => {
  it.each(builtIn.map(({ id, steps }) => [id, steps] as const))(
    '%s: the ear takes every call, and words of no step are talk',
    (_, steps) => {
      const reader = new Reader({ 'numbers.gram': numbers, 'recall.gram': recallGrammar(steps) });
      const takes = (said: string): boolean => {
        const heard = reader.words(said);
        return typeof heard !== 'string' && reader.read('recall.said', heard).length > 0;
      };
      expect(steps.filter(({ call }) => !takes(call)).map(({ id }) => id)).toEqual([]);
      expect(takes('my daughter visits tomorrow')).toBe(false);
    },
  );
});
