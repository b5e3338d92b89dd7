import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { spelled } from '../../src/words/en-US/numbers.ts';

const dictionary = join(
  import.meta.dirname,
  '../../node_modules/soundswallower/model/en-us/dict.txt',
);

/** The speech model's pronunciations: a syllable is a vowel among its sounds. */
const syllablesOf: ReadonlyMap<string, number> = new Map(
  readFileSync(dictionary, 'utf8')
    .split('\n')
    .filter((line) => !/^\S+\(\d+\)/.test(line))
    .map((line) => {
      const [word = '', ...sounds] = line.trim().split(/\s+/);
      return [word, sounds.filter((sound) => /^[AEIOU]/.test(sound)).length] as const;
    }),
);

/** As they are said. */
const units: Readonly<Record<string, string>> = {
  mL: 'milliliters',
  ml: 'milliliters',
  kg: 'kilograms',
  g: 'grams',
  h: 'hours',
  min: 'minutes',
  MB: 'megabytes',
};

function wordsIn(text: string): string[] {
  const found = text.replaceAll('’', "'").match(/[A-Za-z]+(?:'[a-z]+)?|\d+/g) ?? [];
  return found
    .map((word) => units[word] ?? word)
    .flatMap((word) => (/^\d{1,4}$/.test(word) ? spelled(Number(word)).split(/[\s-]+/) : [word]));
}

/** Vowels that stand together, less a silent e: for words that the dictionary does not have. */
const guessed = (word: string): number =>
  Math.max(1, (word.replace(/(?<=[^aeiouyl])e$/, '').match(/[aeiouy]+/g) ?? []).length);

export const syllables = (word: string): number => {
  const small = word.toLowerCase();
  return syllablesOf.get(small) ?? syllablesOf.get(small.replace(/'.*$/, '')) ?? guessed(small);
};

/**
 * The school grade of some sentences: 0.39 words a sentence + 11.8 syllables a word - 15.59.
 *
 * @see Kincaid, Fishburne, Rogers and Chissom, Research Branch Report 8-75, 1975 (from memory)
 */
export function grade(sentences: readonly string[]): number {
  const words = sentences.flatMap(wordsIn);
  const sounds = words.reduce((sum, word) => sum + syllables(word), 0);
  return 0.39 * (words.length / sentences.length) + 11.8 * (sounds / words.length) - 15.59;
}

const least = 4;
/** Stands where the program puts a number or a name. */
const filled = 'seven';

/**
 * Sentences of four words and more, beside what is put in; what is shorter is a label, for which no
 * grade is meant.
 */
export const sentencesIn = (text: string): string[] =>
  text
    .split(/(?<=[.?!…])\s+|\n+/)
    .map((sentence) => sentence.trim())
    .filter((sentence) => wordsIn(sentence.replaceAll(filled, ' ')).length >= least);

/** A source, and a definition that was published, is told in the words it was published in. */
const cited = new Set(['source', 'sources', 'definitions']);

/** All text that a file of words holds. */
export function textsOf(path: string): string[] {
  const texts: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isTypeNode(node)) return;
    const isNamed = ts.isPropertyAssignment(node) || ts.isVariableDeclaration(node);
    if (isNamed && cited.has(node.name.getText(file))) return;
    if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) texts.push(node.text);
    if (ts.isTemplateExpression(node)) {
      texts.push(
        [node.head.text, ...node.templateSpans.map(({ literal }) => literal.text)].join(filled),
      );
    }
    node.forEachChild(visit);
  };
  const file = ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.Latest, true);
  visit(file);
  return texts;
}
