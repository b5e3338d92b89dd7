import { fractions, intakeOf, type Drunk, type Fraction, type Serving } from '../measure/intake.ts';
import { isMillilitres } from '../measure/volume.ts';
import type { Evidence, SaidVolume } from './said.ts';

/** One serving of a tray, as it was named. */
export interface NamedServing {
  readonly serving: Serving;
  readonly said: Drunk;
}

/** A serving that the unit knows, from what the grammar made of it; null for any other. */
export function namedServing(value: unknown, servings: readonly Serving[]): NamedServing | null {
  if (typeof value !== 'object' || value === null || !('serving' in value)) return null;
  const serving = servings.find(({ id }) => id === value.serving);
  if (serving === undefined) return null;
  if ('drunk' in value && isFraction(value.drunk)) return { serving, said: { drunk: value.drunk } };
  if ('left' in value && isMillilitres(value.left)) return { serving, said: { left: value.left } };
  return null;
}

const isFraction = (value: unknown): value is Fraction =>
  typeof value === 'string' && Object.hasOwn(fractions, value);

/**
 * A serving as the volume that counts.
 *
 * @param unsure - true where the ear was
 * @returns `mL` null where more would be left than was served
 */
export function servingSaid(named: NamedServing, unsure: boolean, evidence: Evidence): SaidVolume {
  const amount = intakeOf(named.serving, named.said);
  return {
    mL: amount.ok ? amount.mL : null,
    candidates: amount.ok ? [amount.mL] : [],
    fills: [],
    approximate: false,
    doubtful: unsure,
    soundAlike: [],
    withdrawn: [],
    further: false,
    evidence,
    item: { ...named, method: 'left' in named.said ? 'measured' : 'estimated' },
  };
}

/** True when both name the same part of the same serving. */
export function isSameServing(one: SaidVolume, other: SaidVolume): boolean {
  const key = ({ item }: SaidVolume) =>
    item === undefined ? null : JSON.stringify([item.serving.id, item.said]);
  return key(one) !== null && key(one) === key(other);
}
