import type { ReviewRules } from '../charting/reviewRules.ts';
import type { ShiftPlan } from '../charting/shifts.ts';
import type { Bag, Container } from '../measure/vessel.ts';

/** What the unit has set that the review, the sheet and the handover go by. */
export interface RecordSettings {
  /** Labels as they stand in the record, in the order of the wing. */
  readonly beds: readonly string[];
  readonly containers: readonly Container[];
  readonly bags: readonly Bag[];
  readonly plan: ShiftPlan;
  readonly rules: ReviewRules;
  /** Longest time from reading to record that is not late, ms. */
  readonly lateAfter: number;
}

/** Common practice, no source: an entry is late when it was recorded over 15 min after the reading. */
export const usualLateAfter = 15 * 60_000;

/** The vessel that an entry names, by its label or its id; null when the unit has it no more. */
export function vesselNamed<V extends Container | Bag>(
  vessels: readonly V[],
  name: string | null,
): V | null {
  return vessels.find(({ id, label }) => label === name || id === name) ?? null;
}
