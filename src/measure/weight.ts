/** A weight in whole grams, 0 or more. {@link grams} is its only maker. */
export type Grams = number & { readonly [brand]: 'g' };
declare const brand: unique symbol;

/** True for a number that may stand as a weight: whole, safe, not negative. */
export function isGrams(value: unknown): value is Grams {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0;
}

/**
 * Brand a number as a weight.
 *
 * @param value - g
 * @throws {RangeError} `grams_not_whole` for what is not whole and 0 or more
 */
export function grams(value: number): Grams {
  if (!isGrams(value)) {
    throw new RangeError(`grams_not_whole: expected a whole number of g, 0 or more, got ${value}`);
  }
  return value;
}

/**
 * A person's weight for rates, from kilograms as they are on file.
 *
 * @param kg - more than 0, at most 500; kept to the gram
 * @returns null for what can be no person's weight
 */
export function personWeight(kg: number): Grams | null {
  return kg > 0 && kg <= 500 ? grams(Math.round(kg * 1000)) : null;
}
