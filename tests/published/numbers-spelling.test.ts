import { describe, expect, it, vi } from 'vitest';
import { toCardinal as american } from 'n2words/en-US';
import { toCardinal as british } from 'n2words/en-GB';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { grammarFiles } from '../support/grammarFiles.ts';
import { spellNumber } from '../support/spellNumber.ts';

// Five thousand sentences a test.
vi.setConfig({ testTimeout: 120_000 });

const interpreter = createInterpreter(grammarFiles());
const numbers = Array.from({ length: 5001 }, (_, number) => number);

/** What is read as another number, or not as one; what may be one of several is told apart. */
function misread(spell: (number: number) => string) {
  const wrong: string[] = [];
  const asked: string[] = [];
  for (const number of numbers) {
    const said = spell(number);
    const reading = interpreter.volume(said, {});
    if (reading.mL === number) continue;
    const isAmong = (reading.ambiguous as readonly number[]).includes(number);
    (reading.mL === null && isAmong ? asked : wrong).push(`${said}: ${reading.mL}`);
  }
  return { wrong, asked };
}

// Source: Unicode CLDR 48, rule-based number format for English (package cldr-rbnf).
describe('When every number to 5000 is spelt by CLDR', () => {
  it.each(['%spellout-cardinal', '%spellout-cardinal-verbose'])('%s is read back', (style) => {
    expect(misread((number) => spellNumber(number, style))).toEqual({ wrong: [], asked: [] });
  });

  it('years are read back, but for pairs that are two numbers as well', () => {
    const { wrong, asked } = misread((number) => spellNumber(number, '%spellout-numbering-year'));
    expect(wrong).toEqual([]);
    // Ten fifteen, fifteen twenty, twenty thirty ... and ten ten, twenty twenty ...
    expect(asked.length).toBeGreaterThan(30);
    for (const each of asked) expect(each).toMatch(/^\S+ \S+: null$/);
  });
});

// Second witness: the package n2words 4.0.0.
describe('When every number to 5000 is spelt by n2words', () => {
  it.each([
    ['American', american],
    ['British', british],
  ])('%s is read back', (_, spell) => {
    expect(misread((number) => spell(number))).toEqual({ wrong: [], asked: [] });
  });
});
