import { personWeight, type Grams } from '../measure/weight.ts';
import type { Unit } from './unit.ts';

/** The weight on file for a bed, or null. */
export function weightOfBed({ beds }: Pick<Unit, 'beds'>, label: string): Grams | null {
  const weight = beds.find((bed) => bed.label === label)?.weight ?? null;
  return weight === null ? null : personWeight(weight);
}
