import { hour, isUnderPerKg } from './rates.ts';
import type { Millilitres } from './volume.ts';
import type { Grams } from './weight.ts';

/**
 * Published definitions whose figures a span of urine output meets, for the reviewer to read beside
 * its figures. They are codes of definitions; no word for a state of a person is made of them.
 */
export type Definition =
  /** Under 0.5 mL/kg/h for 6 hours and more. KDIGO 2012, Table 2. */
  | 'halfPerKgSixHours'
  /** Under 0.5 mL/kg/h for 12 hours and more. KDIGO 2012, Table 2. */
  | 'halfPerKgTwelveHours'
  /** Under 0.3 mL/kg/h for 24 hours and more. KDIGO 2012, Table 2. */
  | 'thirdPerKgDay'
  /** None for 12 hours and more. KDIGO 2012, Table 2. */
  | 'noneTwelveHours'
  /** Under 400 mL in 24 hours; other texts say 500. University cross-cover guide. */
  | 'under400Day'
  /** Over 3,000 mL in 24 hours, or over 50 mL/kg. Open textbook chapter. */
  | 'over3000Day';

/** A span of output: what was measured, over how long, and the weight on file or null. */
export interface Span {
  readonly mL: Millilitres;
  /** ms, more than 0. */
  readonly ms: number;
  readonly weight: Grams | null;
}

/**
 * The definitions that a span meets by its mean rate; limits are strict.
 *
 * The source does not say whether its limit holds for the mean or for each hour. This is the mean,
 * and what is shown says so.
 */
export function definitionsMet({ mL, ms, weight }: Span): Definition[] {
  const met: Definition[] = [];
  if (weight !== null && isUnderPerKg(mL, weight, ms, 5)) {
    if (ms >= 6 * hour) met.push('halfPerKgSixHours');
    if (ms >= 12 * hour) met.push('halfPerKgTwelveHours');
  }
  if (weight !== null && ms >= 24 * hour && isUnderPerKg(mL, weight, ms, 3)) {
    met.push('thirdPerKgDay');
  }
  if (mL === 0 && ms >= 12 * hour) met.push('noneTwelveHours');
  if (ms === 24 * hour) {
    if (mL < 400) met.push('under400Day');
    if (mL > 3000 || (weight !== null && mL * 1000 > 50 * weight)) met.push('over3000Day');
  }
  return met;
}
