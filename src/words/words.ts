import { alerts } from './en-US/alerts.ts';
import { bedside } from './en-US/bedside.ts';
import { charting } from './en-US/charting.ts';
import * as dates from './en-US/dates.ts';
import { findingVoice } from './en-US/findings.ts';
import { fluids } from './en-US/fluids.ts';
import { handover } from './en-US/handover.ts';
import { practice } from './en-US/practice.ts';
import { review } from './en-US/review.ts';
import { sheet } from './en-US/sheet.ts';
import { walk } from './en-US/walk.ts';

/** The same parts, whatever their texts say. */
type AnyText<Part> = Part extends string
  ? string
  : Part extends (...given: infer Given) => infer Said
    ? (...given: Given) => AnyText<Said>
    : { readonly [Name in keyof Part]: AnyText<Part[Name]> };

const enUS = {
  alerts,
  bedside,
  charting,
  dates,
  findingVoice,
  fluids,
  handover,
  practice,
  review,
  sheet,
  walk,
};

/** What a locale has to say: `en-US` is the pattern, a part that is missing a fault of types. */
export type Words = AnyText<typeof enUS>;

const locales = { 'en-US': enUS } satisfies Readonly<Record<string, Words>>;

/** The tongues that the app speaks. Grammars stand beside them in `grammars/<locale>/`. */
export type Locale = keyof typeof locales;

export function wordsFor(locale: Locale): Words {
  return locales[locale];
}
