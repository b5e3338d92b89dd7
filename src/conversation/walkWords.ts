import { isAlertCode } from '../measure/alerts.ts';
import { alerts } from '../words/en-US/alerts.ts';
import { findingVoice } from '../words/en-US/findings.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { Settled } from './readingMachine.ts';
import type { WalkContext } from './walkContext.ts';

/** The answer to "what was the number": the settled one, what is still open, or that there is none. */
export function numberText({ locale, settled, parked }: WalkContext): string {
  const { walk } = wordsFor(locale);
  if (settled !== null) return walk.number(settled.amount);
  return parked === null ? walk.noNumberYet : walk.parkedNumber(parked.candidates);
}

/** What is said once a number is agreed to: that it is kept, and what to tell the nurse. */
export function settledText({ amount, findings }: Settled, locale: Locale, nurse?: string): string {
  const told = findings
    .filter(({ severity }) => severity === 'tell')
    .map(({ code, figures }) => findingVoice(code, 'tell', figures));
  const kept = [wordsFor(locale).walk.settled(amount), ...told].join(' ');
  return told.length === 0 ? kept : withWhom(kept, nurse);
}

/** What to tell, with the unit's own words on whom to call. */
export function withWhom(told: string, nurse = ''): string {
  return nurse === '' ? told : `${told} ${nurse}`;
}

/** What to do about something wrong, in words to say. */
export function nurseText(code: string): string {
  return alerts[isAlertCode(code) ? code : 'somethingWrong'].said;
}
