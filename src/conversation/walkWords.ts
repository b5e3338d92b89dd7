import { wordsFor } from '../words/words.ts';
import type { WalkContext } from './walkContext.ts';

/** The answer to "what was the number": the settled one, or what is still open, or that there is none. */
export function numberText({ locale, settled, parked }: WalkContext): string {
  const { walk } = wordsFor(locale);
  if (settled !== null) return walk.number(settled.amount);
  return parked === null ? walk.noNumberYet : walk.parkedNumber(parked.candidates);
}

/** What to tell the nurse, in words to say. */
export function nurseText(code: string, { locale }: WalkContext): string {
  return code + locale;
}
