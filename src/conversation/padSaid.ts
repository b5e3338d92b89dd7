import { padAmount, type PadProduct } from '../measure/pad.ts';
import type { Millilitres } from '../measure/volume.ts';
import type { Grams } from '../measure/weight.ts';
import type { Evidence, SaidVolume } from './said.ts';

/**
 * The weight of a wet pad as the fluid that it stands for.
 *
 * @param weights - what may have been said, likeliest first, g; at least one
 * @param unsure - true where the ear was
 * @returns `mL` null where the pad would be lighter than a dry one
 */
export function padSaid(
  weights: readonly [Grams, ...Grams[]],
  pad: PadProduct,
  unsure: boolean,
  evidence: Evidence,
): SaidVolume {
  const fluidOf = (wet: Grams): Millilitres | null => {
    const amount = padAmount({ wet, dry: pad.dry, soiled: false });
    return amount.ok ? amount.mL : null;
  };
  const [wet] = weights;
  const candidates = weights.map(fluidOf).filter((mL) => mL !== null);
  return {
    mL: fluidOf(wet),
    candidates: [...new Set(candidates)],
    fills: [],
    approximate: false,
    doubtful: unsure || new Set(weights).size > 1,
    soundAlike: [],
    withdrawn: [],
    further: false,
    evidence,
    wet,
  };
}
