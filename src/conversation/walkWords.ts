import { isAlertCode } from '../measure/alerts.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { Step } from '../procedures/schema.ts';
import type { Settled } from './readingMachine.ts';
import { isTray, traySum } from './tray.ts';
import type { WalkContext } from './walkContext.ts';

type StepKind = Step['kind'];

/** The answer to "what was the number": the settled one, what is still open, or that there is none. */
export function numberText({ locale, settled, parked, counted }: WalkContext): string {
  const { walk } = wordsFor(locale);
  if (counted !== null) return walk.count.number;
  if (settled !== null && isTray(settled.fills)) return walk.tray.number(traySum(settled.fills));
  if (settled !== null) return walk.number(settled.amount);
  return parked === null ? walk.noNumberYet : walk.parkedNumber(parked.candidates);
}

/** What is said once a number is agreed to: that it is kept, and what to tell the nurse. */
export function settledText(
  { amount, fills, findings }: Settled,
  locale: Locale,
  nurse?: string,
): string {
  const { walk, findingVoice } = wordsFor(locale);
  const told = findings
    .filter(({ severity }) => severity === 'tell')
    .map(({ code, figures }) => findingVoice(code, 'tell', figures));
  const settled = isTray(fills) ? walk.tray.settled(traySum(fills)) : walk.settled(amount);
  const kept = [settled, ...told].join(' ');
  return told.length === 0 ? kept : withWhom(kept, nurse);
}

/** What is said once the entry is in the record. */
export function savedText({ locale, procedure, settled, counted }: WalkContext): string {
  const { walk } = wordsFor(locale);
  if (procedure.method === 'unmeasured') {
    return counted === null ? walk.count.savedOpen : walk.count.saved;
  }
  if (settled === null) return walk.savedOpen;
  return isTray(settled.fills)
    ? walk.tray.saved(traySum(settled.fills))
    : walk.saved(settled.amount);
}

/** The answer to "what can I say". */
export function helpText({ locale }: WalkContext, kind: StepKind, handsOver: boolean): string {
  const { help } = wordsFor(locale).walk;
  if (kind === 'count') return help.count;
  return handsOver ? `${help.step} ${help.otherwise}` : help.step;
}

/** What to tell, with the unit's own words on whom to call. */
export function withWhom(told: string, nurse = ''): string {
  return nurse === '' ? told : `${told} ${nurse}`;
}

/** What to do about something wrong, in words to say. */
export function nurseText(code: string, locale: Locale): string {
  return wordsFor(locale).alerts[isAlertCode(code) ? code : 'somethingWrong'].said;
}
