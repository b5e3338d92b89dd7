import type { Mark } from './marks.ts';
import type { Step } from './schema.ts';

/** The first step that bears a mark; -1 for none. */
export function firstWith(steps: readonly Step[], mark: Mark): number {
  return steps.findIndex((step) => step.marks.includes(mark));
}

/** The last step that bears a mark; -1 for none. */
export function lastWith(steps: readonly Step[], mark: Mark): number {
  return steps.findLastIndex((step) => step.marks.includes(mark));
}

/**
 * The steps, first and last included, in which nothing may need a touch: from gloves on to hands
 * washed. Null for a procedure without gloves.
 */
export function gloveSpan(steps: readonly Step[]): { from: number; to: number } | null {
  const from = firstWith(steps, 'glovesOn');
  const to = lastWith(steps, 'handsWashed');
  return from < 0 || to < from ? null : { from, to };
}
