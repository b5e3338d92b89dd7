import { millilitres, type Millilitres } from './volume.ts';

/** A US fluid ounce by the unit's rule, mL: 30 (21 CFR 101.9) or 29.5735 (UCUM `[foz_us]`). */
export type OunceRule = 30 | 29.5735;

/**
 * Fluid ounces as mL, to the nearest whole mL.
 *
 * @param ounces - 0 or more, fractions allowed
 * @throws {VolumeError} for a negative or endless number
 * @see 21 CFR 101.9(b)(5)(viii) for 30 mL
 */
export function fromOunces(ounces: number, rule: OunceRule): Millilitres {
  return millilitres(Math.round(ounces * rule));
}

/** Household measures of US labels, mL. @see 21 CFR 101.9(b)(5)(viii) */
export const household = {
  teaspoon: millilitres(5),
  tablespoon: millilitres(15),
  fluidOunce: millilitres(30),
  cup: millilitres(240),
} as const;
