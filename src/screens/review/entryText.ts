import type { Amount } from '../../charting/amount.ts';
import type { Entry, RefusalCode } from '../../charting/entry.ts';
import type { NotedFinding } from '../../charting/evidence.ts';
import { findingCodes } from '../../measure/finding.ts';
import type { FluidKind } from '../../measure/fluid.ts';
import { clockText, isoOf, type Moment } from '../../measure/moment.ts';
import type { Against } from '../../app/standing.ts';
import { shortDateText, spanText } from '../../words/en-US/dates.ts';
import { fluids } from '../../words/en-US/fluids.ts';
import { amountText } from '../../words/en-US/numbers.ts';
import { findings } from '../../words/en-US/findings.ts';
import { review } from '../../words/en-US/review.ts';

export function amountWords(amount: Amount | null): string {
  switch (amount?.method) {
    case undefined:
      return review.rack.noAmount;
    case 'measured':
      return amountText(amount.mL);
    case 'estimated':
      return review.rack.approximate(amount.mL);
    case 'unmeasured':
      return review.rack.unmeasured(amount.count);
  }
}

export function kindWords(kind: FluidKind | null): string {
  return kind === null ? review.rack.noKind : fluids[kind];
}

export function bedWords(bed: string | null): string {
  return bed === null || bed === '' ? review.rack.noBed : bed;
}

/** The date by the wall clock of a moment: `2026-11-24`. */
export function dateOf(moment: Moment): string {
  return isoOf(moment).slice(0, 10);
}

/** Clock and date as they are read on a screen: `0642, Nov 24`. */
export function momentWords(moment: Moment | null): string {
  if (moment === null) return review.rack.noTime;
  return `${clockText(moment)}, ${shortDateText(dateOf(moment))}`;
}

/** One line that names an entry, for a label that is heard alone. */
export function entryWords(entry: Entry): string {
  const { bed, amount, readAt } = entry;
  return [bedWords(bed), amountWords(amount), momentWords(readAt)].join(', ');
}

/** A finding as the reviewer reads it, with its figures. */
export function findingWords({ code, numbers = {} }: NotedFinding): string {
  const known = findingCodes.find((one) => one === code);
  return known === undefined ? code : findings[known].reviewer(numbers);
}

/** Where the limit of a finding stands, or null for a code that is not known here. */
export function findingSource({ code }: NotedFinding): string | null {
  const known = findingCodes.find((one) => one === code);
  return known === undefined ? null : findings[known].source;
}

export function againstWords(against: Against): string {
  const { against: words, fields } = review;
  switch (against.code) {
    case 'missing':
      return words.missing(against.fields.map((field) => fields[field]).join(', '));
    case 'alert':
      return words.alert;
    case 'finding':
      return findingWords(against.finding);
    case 'disputed':
      return words.disputed(against.tries);
    case 'doubtful':
      return words.doubtful;
    case 'noReadBack':
      return words.noReadBack;
    case 'estimated':
      return words.estimated;
    case 'late':
      return words.late(spanText(against.lag));
  }
}

export function refusalWords(code: RefusalCode, first: string): string {
  return review.refusals[code](first);
}
