import type { OunceRule } from '../../grammar/expectation.ts';
import type { Rounding } from '../../measure/lines.ts';
import type { Moment } from '../../measure/moment.ts';
import type { Container } from '../../measure/vessel.ts';
import type { Millilitres } from '../../measure/volume.ts';
import type { Procedure } from '../../procedures/schema.ts';
import type { Locale } from '../../words/words.ts';

/** A procedure to go through: with the unit's own order and words. */
export interface StepsPlan {
  readonly mode: 'guided' | 'recall';
  readonly procedure: Procedure;
}

/** Levels to read in one container. */
export interface DrillPlan {
  readonly mode: 'drill';
  readonly container: Container;
  /** What the levels were drawn from. */
  readonly seed: number;
  readonly levels: readonly Millilitres[];
  readonly rounding: Rounding;
  /** How far off still counts as right, mL, inclusive. */
  readonly tolerance: Millilitres;
  readonly ounceIn: OunceRule;
}

export type PracticePlan = StepsPlan | DrillPlan;

export interface PracticeInput {
  /** Of the attempt that the round becomes. */
  readonly id: string;
  readonly startedAt: Moment;
  readonly locale: Locale;
  readonly plan: PracticePlan;
}
