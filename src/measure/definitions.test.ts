import { describe, expect, test } from 'vitest';
import { definitions } from '../words/en-US/findings.ts';
import { definitionsMet } from './definitions.ts';
import { hour } from './rates.ts';
import { millilitres as mL } from './volume.ts';
import { grams } from './weight.ts';

describe('When a span of output meets a definition', () => {
  const spans = [
    { mL: mL(0), ms: 24 * hour, weight: grams(65_000) },
    { mL: mL(3_300), ms: 24 * hour, weight: grams(60_000) },
  ];
  const met = spans.flatMap(definitionsMet);

  test('all six are met by one of two spans', () => {
    expect([...new Set(met)].sort()).toEqual(Object.keys(definitions).sort());
  });

  test.each([...new Set(met)])(
    '%s has words with its limit and its source, and no judgement',
    (code) => {
      expect(definitions[code]).toMatch(/\d|None/);
      expect(definitions[code]).toMatch(/\(.+\)/);
      expect(definitions[code]).not.toMatch(/normal|oligur|anur|polyur|stage/i);
    },
  );
});
