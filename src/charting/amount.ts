import type { Millilitres } from '../measure/volume.ts';

/**
 * How much. An unmeasured episode is counted and never stands as 0 mL; measured and estimated
 * amounts are never added into one figure.
 */
export type Amount = VolumeAmount | UnmeasuredAmount;

export interface VolumeAmount {
  readonly method: 'measured' | 'estimated';
  readonly mL: Millilitres;
  /** Parts of one emptying, mL; one part when the vessel was filled once. Their sum is `mL`. */
  readonly fills: readonly Millilitres[];
}

export interface UnmeasuredAmount {
  readonly method: 'unmeasured';
  /** Episodes, 1 or more. */
  readonly count: number;
}
