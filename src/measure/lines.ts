import type { Container } from './vessel.ts';
import { millilitres, type Millilitres } from './volume.ts';

/** What is charted when the level stands between two lines; published standards differ. */
export type Rounding = 'nearest' | 'up';

/** The two lines that a level stands between, mL. */
export interface Gap {
  readonly below: Millilitres;
  readonly above: Millilitres;
}

/** The lines of a container from the lowest to the top one, mL. The bottom, 0, is no line. */
export function linesOf({ capacity, lineStep }: Container): Millilitres[] {
  const lines: Millilitres[] = [];
  for (let line: number = lineStep; line < capacity; line += lineStep)
    lines.push(millilitres(line));
  return [...lines, capacity];
}

/** True when a level is on a line, or is nothing at all. */
export function isOnLine(container: Container, mL: Millilitres): boolean {
  const { capacity, lineStep } = container;
  return mL === capacity || (mL < capacity && mL % lineStep === 0);
}

/** The lines just below and above a level; null when it is on one, or above the top. */
export function gapAround(container: Container, mL: Millilitres): Gap | null {
  const { capacity, lineStep } = container;
  if (mL > capacity || isOnLine(container, mL)) return null;
  const below = Math.floor(mL / lineStep) * lineStep;
  return { below: millilitres(below), above: millilitres(Math.min(below + lineStep, capacity)) };
}

/**
 * A level on the container's lines by the unit's rule; null above the top line.
 *
 * Half-way between two lines, `nearest` takes the upper one.
 *
 * @see NNAAP handbooks after about 2016 for `up` (from memory)
 */
export function roundToLine(
  container: Container,
  mL: Millilitres,
  rounding: Rounding,
): Millilitres | null {
  if (mL > container.capacity) return null;
  const gap = gapAround(container, mL);
  if (gap === null) return mL;
  return rounding === 'up' || mL - gap.below >= gap.above - mL ? gap.above : gap.below;
}
