import type { Millilitres } from './volume.ts';
import type { Grams } from './weight.ts';

/** Milliseconds in an hour. */
export const hour = 3_600_000;

/**
 * True when a volume over a time is less than so many mL an hour.
 *
 * Both sides stay whole numbers: 504 mL / 70 kg / 24 h as a float falls under 0.3 by a slip of the
 * last bit, and an exact limit must not.
 *
 * @param ms - more than 0
 */
export function isUnderPerHour(mL: Millilitres, ms: number, limit: number): boolean {
  return mL * hour < limit * ms;
}

/**
 * True when a volume over a time is less than so many tenths of a mL per kg and hour.
 *
 * @param tenths - 5 for 0.5 mL/kg/h, 3 for 0.3
 * @param ms - more than 0
 */
export function isUnderPerKg(mL: Millilitres, weight: Grams, ms: number, tenths: number): boolean {
  return 10_000 * mL * hour < tenths * weight * ms;
}

/**
 * mL an hour to one decimal, rounded down: what is under a limit never shows as the limit.
 *
 * @param ms - more than 0
 */
export function perHour(mL: Millilitres, ms: number): number {
  return Math.floor((10 * mL * hour) / ms) / 10;
}

/**
 * mL per kg and hour to two decimals, rounded down.
 *
 * @param ms - more than 0
 */
export function perKgHour(mL: Millilitres, weight: Grams, ms: number): number {
  return Math.floor((100_000 * mL * hour) / (weight * ms)) / 100;
}
