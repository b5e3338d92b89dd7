import { bedside } from './en-US/bedside.ts';
import { charting } from './en-US/charting.ts';
import * as dates from './en-US/dates.ts';
import { fluids } from './en-US/fluids.ts';
import { handover } from './en-US/handover.ts';
import { practice } from './en-US/practice.ts';
import { review } from './en-US/review.ts';
import { sheet } from './en-US/sheet.ts';
import { walk } from './en-US/walk.ts';

const locales = {
  'en-US': { bedside, charting, dates, fluids, handover, practice, review, sheet, walk },
} as const;

/** The tongues that the app speaks. Grammars stand beside them in `grammars/<locale>/`. */
export type Locale = keyof typeof locales;

export function wordsFor(locale: Locale): (typeof locales)['en-US'] {
  return locales[locale];
}
