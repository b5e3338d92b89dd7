import type { WalkContext } from '../../conversation/walkContext.ts';
import type { readingMachine } from '../../conversation/readingMachine.ts';
import type { SnapshotFrom } from 'xstate';

type ReadingContext = SnapshotFrom<typeof readingMachine>['context'];

export interface ShownNumber {
  readonly amount: number | null;
  readonly fills: readonly number[];
  readonly standing: 'none' | 'open' | 'kept' | 'parked';
  readonly candidates: readonly number[];
}

/**
 * What the number view shows: under a reading the amount discussed, afterwards the one kept or left
 * open, and nothing before the first reading.
 */
export function numberOf(
  walk: WalkContext,
  reading: ReadingContext | undefined,
): ShownNumber | null {
  if (walk.readingOpen && reading !== undefined) {
    const last = reading.candidate?.mL ?? null;
    const parts = reading.kept.flatMap((fill) => (fill.mL === null ? [] : [fill.mL]));
    const fills = last === null ? parts : [...parts, last];
    const amount = fills.length === 0 ? null : fills.reduce((sum, fill) => sum + fill, 0);
    return { amount, fills, standing: amount === null ? 'none' : 'open', candidates: [] };
  }
  if (walk.settled !== null) {
    const fills = walk.settled.fills.flatMap(({ mL }) => (mL === null ? [] : [mL]));
    return { amount: walk.settled.amount, fills, standing: 'kept', candidates: [] };
  }
  if (walk.parked === null) return null;
  return { amount: null, fills: [], standing: 'parked', candidates: walk.parked.candidates };
}
