import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { numberWords, phoneWord, phones } from '../../../src/speech/bundled/backgrounds.ts';
import { wordsOfJsgf } from '../../../src/speech/bundled/grammarList.ts';
import { builtIn } from '../../../src/procedures/builtIn.ts';
import { grammarFiles } from '../../support/grammarFiles.ts';
import { ownPronunciations } from './ownPronunciations.ts';

const engine = dirname(createRequire(import.meta.url).resolve('soundswallower'));

/** How each word of the grammars sounds. */
export interface Dictionary {
  /** One pronunciation a line, as the engine reads them. */
  readonly text: string;
  readonly pronunciations: number;
  /** All words that a grammar, a number or a step of a procedure has. */
  readonly words: number;
  /** Those that no dictionary has; an ear guesses how they sound. */
  readonly missing: readonly string[];
}

/** The sounds of all words from the CMU dictionary inside the engine's package, and of each bare sound. */
export function makeDictionary(): Dictionary {
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
  return {
    text: [...found, ...ownLines, ...soundLines, ''].join('\n'),
    pronunciations: found.length + ownLines.length,
    words: wanted.size,
    missing: missing.sort(),
  };
}
