import type { Method } from './fluid.ts';
import { millilitres, type Millilitres } from './volume.ts';

/** A drink or a dish as the unit serves it. Ice counts as half of its volume. */
export interface Serving {
  readonly id: string;
  readonly label: string;
  /** What is served, mL. */
  readonly size: Millilitres;
  readonly kind: 'fluid' | 'ice';
}

/** Parts of a serving that are said at a tray: how many of how many. */
export const fractions = {
  all: [1, 1],
  threeQuarters: [3, 4],
  twoThirds: [2, 3],
  half: [1, 2],
  third: [1, 3],
  quarter: [1, 4],
  none: [0, 1],
} as const;

export type Fraction = keyof typeof fractions;

/** What was said of one serving: the part that was drunk, or what is left in mL. */
export type Drunk = { readonly drunk: Fraction } | { readonly left: Millilitres };

export type IntakeAmount =
  | {
      readonly ok: true;
      /** What counts as drunk, mL. */
      readonly mL: Millilitres;
      /** The volume before ice was halved, mL. */
      readonly volume: Millilitres;
      /** A part by eye is estimated; what is left, read off lines, is measured. */
      readonly method: Method;
    }
  | { readonly ok: false; readonly refusal: 'left_above_served' };

/**
 * What was drunk of one serving, whole mL, a half rounded up.
 *
 * @see nursing-school notes: ice counts as half of its volume (one cardiac diet sheet differs)
 */
export function intakeOf(serving: Serving, said: Drunk): IntakeAmount {
  if ('left' in said && said.left > serving.size) {
    return { ok: false, refusal: 'left_above_served' };
  }
  const volume = 'left' in said ? serving.size - said.left : partOf(serving.size, said.drunk);
  const counted = serving.kind === 'ice' ? Math.round(volume / 2) : volume;
  return {
    ok: true,
    mL: millilitres(counted),
    volume: millilitres(volume),
    method: 'left' in said ? 'measured' : 'estimated',
  };
}

function partOf(size: Millilitres, fraction: Fraction): number {
  const [part, of] = fractions[fraction];
  return Math.round((size * part) / of);
}

/** The sums of a tray, mL; measured and estimated are never added together. */
export interface IntakeSum {
  readonly measured: Millilitres;
  readonly estimated: Millilitres;
}

/** Add up a tray; refused servings must be settled before. */
export function intakeSum(amounts: readonly Extract<IntakeAmount, { ok: true }>[]): IntakeSum {
  const sum = (method: Method): Millilitres =>
    millilitres(
      amounts.reduce((total, each) => (each.method === method ? total + each.mL : total), 0),
    );
  return { measured: sum('measured'), estimated: sum('estimated') };
}
