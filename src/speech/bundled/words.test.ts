import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeDictionary } from '../../../tests/bench/hearing/dictionary.ts';
import { grammarFiles } from '../../../tests/support/grammarFiles.ts';
import { createInterpreter } from '../../grammar/interpreter.ts';
import type { Expectation } from '../../grammar/expectation.ts';
import { millilitres } from '../../measure/volume.ts';
import { anyNumber, anySound } from './backgrounds.ts';
import { wordsOfJsgf } from './grammarList.ts';
import { guessSounds } from './guessSounds.ts';

const entries = readFileSync(join(import.meta.dirname, 'words.dict'), 'utf8')
  .trim()
  .split('\n');
const known = new Set(entries.map((entry) => entry.split(' ')[0]));
const missing = (jsgf: string): string[] => wordsOfJsgf(jsgf).filter((word) => !known.has(word));

const containers = [
  [1000, 25],
  [500, 10],
  [2000, 50],
].map(([capacity = 0, lineStep = 0]) => ({
  id: 'c',
  label: 'c',
  kind: 'graduate' as const,
  capacity: millilitres(capacity),
  lineStep: millilitres(lineStep),
}));

describe('When the ear is given what may be said', () => {
  const interpreter = createInterpreter(grammarFiles());
  const plain: Expectation[] = [{ state: 'step' }, { state: 'held' }, { state: 'look' }];
  const reading = containers.flatMap((container): Expectation[] => [
    { state: 'reading', container, ounceIn: 30, fills: [] },
    { state: 'readback', container, ounceIn: 30, proposed: millilitres(350) },
  ]);

  // A new word in a grammar: npx tsx tests/bench/hearing/makeDictionary.ts
  it.each([...plain, ...reading])('knows every word of $state', (expectation) => {
    const { jsgf, words } = interpreter.earGrammar(expectation);
    expect(missing(jsgf)).toEqual([]);
    expect(words.filter((word) => !known.has(word))).toEqual([]);
    expect(wordsOfJsgf(jsgf).sort()).toEqual([...words].sort());
  });

  it('knows every word of its own two backgrounds', () => {
    expect(missing(anyNumber)).toEqual([]);
    expect(missing(anySound)).toEqual([]);
  });

  it('has the words that the grammars have now, and no others', () => {
    expect([...entries, ''].join('\n')).toBe(makeDictionary().text);
  });

  it('names no word twice', () => {
    expect(known.size).toBe(entries.length);
  });
});

describe('When a word is in no dictionary', () => {
  it.each([
    ['zorb', 'Z AO R B'],
    ['dusk', 'D AH S K'],
    ['shine', 'SH IH N'],
    ['well', 'W EH L'],
    ['', 'AH'],
  ])('guesses that %s sounds like %s', (word, sounds) => {
    expect(guessSounds(word)).toBe(sounds);
  });
});
