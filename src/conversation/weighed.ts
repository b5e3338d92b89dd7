import type { Bag, Container } from '../measure/vessel.ts';
import { sumOf, type Millilitres } from '../measure/volume.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { SaidVolume } from './said.ts';

export interface Finding {
  readonly code: string;
  readonly severity: 'ask' | 'tell' | 'note';
  readonly figures: Readonly<Record<string, number>>;
}

/** What is known of the person's bag and record when the walk starts. */
export interface Circumstances {
  readonly bag: Bag | null;
}

export interface Given extends Circumstances {
  readonly container: Container;
  /** The volume that was questioned just before: said again, it stands. */
  readonly asked: SaidVolume | null;
}

/** What weighing made of a volume: a question to put, or null when it may be read back. */
export interface Weighed {
  readonly question: string | null;
  readonly findings: readonly Finding[];
}

export function weighed(
  volume: SaidVolume,
  kept: readonly Millilitres[],
  given: Given,
  locale: Locale,
): Weighed {
  const { walk } = wordsFor(locale);
  const { mL } = volume;
  if (mL === null) {
    const { candidates } = volume;
    const question = candidates.length > 0 ? walk.whichOf(candidates) : walk.notVolume;
    return { question, findings: [] };
  }
  if (volume.approximate && given.asked?.mL !== mL) {
    return { question: walk.approximate(mL), findings: [] };
  }
  const findings: Finding[] = [];
  if (given.bag && sumOf([...kept, mL]) > given.bag.capacity) {
    findings.push({ code: 'aboveBag', severity: 'ask', figures: {} });
  }
  return { question: null, findings };
}
