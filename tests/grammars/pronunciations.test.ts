import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Expectation } from '../../src/grammar/expectation.ts';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { defaultContainers } from '../../src/measure/containers.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { grams } from '../../src/measure/weight.ts';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { phones } from '../../src/speech/bundled/backgrounds.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

const root = join(import.meta.dirname, '..', '..');
const interpreter = createInterpreter(grammarFiles());
const entries = readFileSync(join(root, 'src/speech/bundled/words.dict'), 'utf8')
  .trim()
  .split('\n')
  .map((line) => line.split(/\s+/));
const dictionary = new Set(entries.map(([word]) => word?.replace(/\(\d+\)$/, '')));
const unknown = (words: readonly string[]): string[] =>
  words.filter((word) => !dictionary.has(word));
const cure =
  'these words have no sounds: npx tsx tests/bench/hearing/makeDictionary.ts, and what it does not know goes into ownPronunciations.ts';

const pad = { id: 'pad', label: 'Pad', dry: grams(60) };
const states: readonly Expectation[] = [
  { state: 'step' },
  { state: 'held' },
  { state: 'look' },
  { state: 'check' },
  { state: 'counting' },
  { state: 'weighing', pad },
  { state: 'weighed', pad },
  { state: 'tray', servings: [] },
  { state: 'trayReadback', servings: [] },
  { state: 'initials', roster: ['AB'] },
  { state: 'initialsReadback', roster: ['AB'] },
  { state: 'choosing', beds: ['Bed 4'], procedures: ['drainage bag'] },
  { state: 'chosen', beds: ['Bed 4'], procedures: ['drainage bag'] },
  { state: 'practice' },
  ...builtIn.map(({ steps }): Expectation => ({
    state: 'recall',
    steps: steps.map(({ keywords }) => keywords),
  })),
  ...defaultContainers.flatMap(({ item: container }): Expectation[] => [
    { state: 'reading', container, ounceIn: 30, fills: [] },
    { state: 'readback', container, ounceIn: 30, proposed: millilitres(100) },
  ]),
];

// A grammar with one word that the engine can not say is refused whole, and the ear is deaf.
describe('When the bundled ear is given a grammar', () => {
  it('every word is spelt in sounds that the engine has', () => {
    const known = new Set<string>(phones);
    const wrong = entries.filter(([, ...sounds]) => !sounds.every((sound) => known.has(sound)));
    expect(entries.length).toBeGreaterThan(500);
    expect(wrong).toEqual([]);
  });

  it.each(
    states.map((each) => [each.state, 'container' in each ? each.container.id : '', each] as const),
  )('%s %s: every word has its sounds', (_, __, expectation) => {
    expect(unknown(interpreter.earGrammar(expectation).words), cure).toEqual([]);
  });

  it('every word that names a step in practice has its sounds', () => {
    const words = builtIn.flatMap(({ steps }) => steps.flatMap(({ keywords }) => keywords.flat()));
    expect(unknown([...new Set(words.flatMap((word) => word.split(' ')))]), cure).toEqual([]);
  });
});
