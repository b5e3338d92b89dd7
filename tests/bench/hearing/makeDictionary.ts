/**
 * Writes `src/speech/bundled/words.dict`: how each word of the grammars sounds, from the CMU
 * dictionary inside the engine's package, and one word for each bare sound.
 *
 * The whole dictionary is 3.3 MB; what the grammars can say fits in a hundredth of that. Run it
 * after a grammar got a new word: npx tsx tests/bench/hearing/makeDictionary.ts
 */
import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { makeDictionary } from './dictionary.ts';

const { text, pronunciations, words, missing } = makeDictionary();
writeFileSync(resolve(import.meta.dirname, '../../../src/speech/bundled/words.dict'), text);
console.log(`${pronunciations} pronunciations of ${words} words.`);
if (missing.length > 0) console.log(`No pronunciation for: ${missing.join(', ')}`);
