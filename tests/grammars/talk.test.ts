import { describe, expect, test } from 'vitest';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { talk, tempting, twoWays } from '../bench/numbers/phrases.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

const { volume } = createInterpreter(grammarFiles());

/** What a bedside says that holds a number, or a word like one, and is no volume. */
describe('When nobody says a volume', () => {
  test.each([...new Set([...talk, ...tempting])])('%s', (said) => {
    expect(volume(said, {})).toMatchObject({ mL: null });
  });
});

describe('When two volumes may be meant', () => {
  test.each([...new Set(twoWays)])('%s', (said) => {
    const { mL, ambiguous, refused } = volume(said, {});
    expect(mL).toBeNull();
    expect(ambiguous.length > 0 || refused !== null).toBe(true);
  });
});
