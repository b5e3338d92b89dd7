import type { Millilitres } from '../../measure/volume.ts';
import type { DrillReading } from '../../procedures/practice.ts';
import { wordsFor, type Locale } from '../../words/words.ts';

/** What is said of one reading: how it stands to the line, and the word that goes on. */
export function drillAnswer(
  { said, level, judgement }: DrillReading,
  tolerance: Millilitres,
  locale: Locale,
): string {
  const words = wordsFor(locale).practice.said;
  const { off, within, line, exact, onLine, gap } = judgement;
  const told = [];
  if (exact) told.push(words.exact(line));
  else if (!within) told.push(words.outside(off, line));
  else if (off === 0) told.push(words.onWithin(line, tolerance));
  else told.push(words.within(off, line, tolerance));
  if (!onLine) told.push(words.noLine(said));
  if (gap !== null && level !== line) told.push(words.between(gap.below, gap.above));
  return [...told, words.sayNext].join(' ');
}
