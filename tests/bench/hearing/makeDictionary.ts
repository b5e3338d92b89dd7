/**
 * Writes `src/speech/bundled/words.dict`: how each word of the grammars sounds, from the CMU
 * dictionary inside the engine's package, and one word for each bare sound.
 *
 * The whole dictionary is 3.3 MB; what the grammars can say fits in a hundredth of that. Run it
 * after a grammar got a new word: npx tsx tests/bench/hearing/makeDictionary.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { numberWords, phoneWord, phones } from '../../../src/speech/bundled/backgrounds.ts';
import { wordsOfJsgf } from '../../../src/speech/bundled/grammarList.ts';
import { builtIn } from '../../../src/procedures/builtIn.ts';
import { grammarFiles } from '../../support/grammarFiles.ts';
import { ownPronunciations } from './ownPronunciations.ts';

const engine = dirname(createRequire(import.meta.url).resolve('soundswallower'));
const entries = readFileSync(join(engine, 'model/en-us/dict.txt'), 'utf8').split('\n');

const grammarWords = Object.values(grammarFiles())
  .flatMap(wordsOfJsgf)
  .filter((word) => /^[a-z][a-z']*$/.test(word));
// In practice a trainee names a step by its key words; they stand with the procedures.
const stepWords = builtIn.flatMap(({ steps }) =>
  steps.flatMap(({ keywords }) => keywords.flat().flatMap((word) => word.split(' '))),
);
const wanted = new Set([...grammarWords, ...numberWords, ...stepWords]);
const nameOf = (entry: string): string => entry.split(/\s/)[0]?.replace(/\(\d+\)$/, '') ?? '';

const found = entries.filter((entry) => wanted.has(nameOf(entry)));
const known = new Set(found.map(nameOf));
const own = ownPronunciations.filter(([word]) => wanted.has(word));
const missing = [...wanted].filter((word) => !known.has(word) && !own.some(([w]) => w === word));

const counted = new Map<string, number>();
const ownLines = own.map(([word, sounds]) => {
  const before = counted.get(word) ?? found.filter((entry) => nameOf(entry) === word).length;
  counted.set(word, before + 1);
  return `${before === 0 ? word : `${word}(${before + 1})`} ${sounds}`;
});
const soundLines = phones.map((phone) => `${phoneWord(phone)} ${phone}`);
const file = resolve(import.meta.dirname, '../../../src/speech/bundled/words.dict');
writeFileSync(file, [...found, ...ownLines, ...soundLines, ''].join('\n'));

console.log(`${found.length + ownLines.length} pronunciations of ${wanted.size} words.`);
if (missing.length > 0) console.log(`No pronunciation for: ${missing.sort().join(', ')}`);
