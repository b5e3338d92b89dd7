import {
  gapAround,
  isOnLine,
  linesOf,
  roundToLine,
  type Gap,
  type Rounding,
} from '../measure/lines.ts';
import type { Container } from '../measure/vessel.ts';
import { millilitres, type Millilitres } from '../measure/volume.ts';

/** NNAAP's tolerance on a recorded amount, mL either way, inclusive. One older checklist takes 50. */
export const drillTolerance = millilitres(25);

/** What was made of a reading in the drill. */
export interface DrillJudgement {
  /** Said less true, mL; negative when too little was said. */
  readonly off: number;
  /** Within the tolerance, its edge included. */
  readonly within: boolean;
  /** The line by the unit's rounding rule. */
  readonly line: Millilitres;
  /** The very line was said. */
  readonly exact: boolean;
  /** False when what was said is no line of this container. */
  readonly onLine: boolean;
  /** The lines that the true level stands between, or null when it is on one. */
  readonly gap: Gap | null;
}

/**
 * A level to draw, mL: from half of the lowest line's height up to the top line.
 *
 * @param chance - 0 to 1, from the caller's dice; half of the levels are on a line
 */
export function drillLevel(container: Container, chance: number): Millilitres {
  const doubled = Math.min(Math.max(chance, 0), 0.999_999) * 2;
  if (doubled < 1) {
    const lines = linesOf(container);
    return lines[Math.floor(doubled * lines.length)] ?? container.capacity;
  }
  const lowest = Math.ceil(container.lineStep / 2);
  const span = container.capacity - lowest;
  return millilitres(lowest + Math.floor((doubled - 1) * (span + 1)));
}

/** Judge a reading that was said against the level that is drawn. */
export function judgeDrill(
  container: Container,
  level: Millilitres,
  said: Millilitres,
  rounding: Rounding,
  tolerance: Millilitres = drillTolerance,
): DrillJudgement {
  const off = said - level;
  const line = roundToLine(container, level, rounding) ?? container.capacity;
  return {
    off,
    within: Math.abs(off) <= tolerance,
    line,
    exact: said === line,
    onLine: isOnLine(container, said),
    gap: gapAround(container, level),
  };
}
