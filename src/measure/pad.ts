import { millilitres, type Millilitres } from './volume.ts';
import type { Grams } from './weight.ts';

/** A kind of pad that the unit uses, with its weight before use. */
export interface PadProduct {
  readonly id: string;
  readonly label: string;
  readonly dry: Grams;
}

export interface PadWeighing {
  readonly wet: Grams;
  /** Null when the unit has no dry weight of this product on file. */
  readonly dry: Grams | null;
  readonly soiled: boolean;
}

export type PadRefusal = 'pad_soiled' | 'pad_dry_unknown' | 'pad_wet_below_dry';

export type PadAmount =
  | { readonly ok: true; readonly mL: Millilitres }
  | { readonly ok: false; readonly refusal: PadRefusal };

/**
 * The fluid in a pad: wet weight less dry weight, 1 g counted as 1 mL.
 *
 * A pad soiled with stool is refused; it is counted as an episode.
 *
 * @see NHS community bladder and bowel service, weighing pads
 */
export function padAmount({ wet, dry, soiled }: PadWeighing): PadAmount {
  if (soiled) return { ok: false, refusal: 'pad_soiled' };
  if (dry === null) return { ok: false, refusal: 'pad_dry_unknown' };
  if (wet < dry) return { ok: false, refusal: 'pad_wet_below_dry' };
  return { ok: true, mL: millilitres(wet - dry) };
}

/** A wet pad loses about 8 % of its fluid in this time; later weighings are noted. Milliseconds. */
export const weighWithin = 30 * 60_000;

/**
 * True when a pad lay too long before it was weighed.
 *
 * @param taken - when it came off, ms; @param weighed - when it was weighed, ms
 * @see Acta Paediatrica 2009: about 8 % at half an hour, 14 % at one hour
 */
export function weighedLate(taken: number, weighed: number): boolean {
  return weighed - taken > weighWithin;
}
