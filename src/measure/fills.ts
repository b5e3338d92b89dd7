import type { Container } from './vessel.ts';
import { sumOf, type Millilitres } from './volume.ts';

/** One emptying that took several containers: the parts in their order, and their sum, mL. */
export interface Fills {
  readonly parts: readonly Millilitres[];
  readonly sum: Millilitres;
}

export type FillAdded =
  | { readonly ok: true; readonly fills: Fills }
  | { readonly ok: false; readonly fault: 'above_container' };

export const noFills: Fills = { parts: [], sum: sumOf([]) };

/** Add one fill. More than the container holds is refused, and nothing is changed. */
export function addFill(fills: Fills, mL: Millilitres, container: Container): FillAdded {
  if (mL > container.capacity) return { ok: false, fault: 'above_container' };
  const parts = [...fills.parts, mL];
  return { ok: true, fills: { parts, sum: sumOf(parts) } };
}

/** Take back the last fill; none stays none. */
export function withoutLastFill({ parts }: Fills): Fills {
  const rest = parts.slice(0, -1);
  return { parts: rest, sum: sumOf(rest) };
}
