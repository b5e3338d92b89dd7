import { Culture, recognizeDimension } from '@microsoft/recognizers-text-number-with-unit';
import nlp from 'compromise';
import { wordsToNumbers } from 'words-to-numbers';
import { createInterpreter } from '../../../src/grammar/interpreter.ts';
import { grammarFiles } from '../../support/grammarFiles.ts';

export interface NumberReader {
  readonly name: string;
  /** mL, or null where nothing was taken for a volume. */
  readonly read: (said: string) => number | null;
}

const toMillilitres: readonly (readonly [RegExp, number])[] = [
  [/^(fluid )?ounces?$/i, 30],
  [/^cups?$/i, 240],
  [/^lit(er|re)s?$/i, 1000],
  [/^mil+ilit(er|re)s?$|^cubic centimeters?$/i, 1],
];

/** Each library as its own pages show it, a bare number being mL. */
export function numberReaders(): NumberReader[] {
  const { volume } = createInterpreter(grammarFiles());
  return [
    { name: 'this project', read: (said) => volume(said, { ounceIn: 30 }).mL },
    {
      name: 'words-to-numbers',
      read: (said) => {
        const found = wordsToNumbers(said, { fuzzy: false });
        const digits = /\d[\d,]*(\.\d+)?/.exec(String(found ?? ''));
        return digits ? Number(digits[0].replaceAll(',', '')) : null;
      },
    },
    {
      name: 'recognizers-text-number-with-unit',
      read: (said) => {
        // A bare number is no dimension to it, so it gets the unit that is meant.
        for (const text of [said, `${said} milliliters`]) {
          const found = recognizeDimension(text, Culture.English)[0]?.resolution;
          if (!found?.unit || !found.value) continue;
          const factor = toMillilitres.find(([shape]) => shape.test(String(found.unit)))?.[1];
          return factor === undefined ? null : Number(found.value) * factor;
        }
        return null;
      },
    },
    {
      name: 'compromise',
      read: (said) => {
        const found = (nlp(said).numbers().json() as { number?: { num?: number | null } }[])[0];
        return found?.number?.num ?? null;
      },
    },
  ];
}
