import { bedside } from './en-US/bedside.ts';
import { practice } from './en-US/practice.ts';
import { walk } from './en-US/walk.ts';

const locales = { 'en-US': { bedside, practice, walk } } as const;

/** The tongues that the app speaks. Grammars stand beside them in `grammars/<locale>/`. */
export type Locale = keyof typeof locales;

export function wordsFor(locale: Locale): (typeof locales)['en-US'] {
  return locales[locale];
}
