import type { Moment } from '../measure/moment.ts';
import type { Millilitres } from '../measure/volume.ts';
import type { DrillJudgement } from './readingDrill.ts';
import type { RecallResult } from './recall.ts';

/** What was done in one round of practice, and what was made of it. */
export type PracticeRound =
  | { readonly kind: 'guided'; readonly procedure: string; readonly steps: number }
  | {
      readonly kind: 'recall';
      readonly procedure: string;
      readonly result: RecallResult;
      /** Steps chosen from the list of all steps: recognised, not recalled. */
      readonly picked: number;
    }
  | {
      readonly kind: 'drill';
      readonly container: string;
      /** The levels can be drawn again from it. */
      readonly seed: number;
      /** The tolerance that the readings were judged by, mL. */
      readonly tolerance: Millilitres;
      readonly readings: readonly DrillReading[];
    };

export interface DrillReading {
  readonly level: Millilitres;
  readonly said: Millilitres;
  readonly judgement: DrillJudgement;
}

/** One round of practice, kept apart from the unit's record. */
export type PracticeAttempt = PracticeRound & {
  readonly id: string;
  readonly at: Moment;
};

/** How one round went, as a part of what there was to do. No mark, and no certificate. */
export interface PracticeScore {
  readonly right: number;
  readonly of: number;
  /** Critical steps missed or passed over; 0 for the drill. */
  readonly criticalMissed: number;
}

export function practiceScore(attempt: PracticeRound | PracticeAttempt): PracticeScore {
  switch (attempt.kind) {
    case 'guided':
      return { right: attempt.steps, of: attempt.steps, criticalMissed: 0 };
    case 'recall': {
      const { right, missed, criticalMissed, criticalPassedOver } = attempt.result;
      const critical = new Set([...criticalMissed, ...criticalPassedOver]);
      return {
        right: right.length,
        of: right.length + missed.length,
        criticalMissed: critical.size,
      };
    }
    case 'drill':
      return {
        right: attempt.readings.filter(({ judgement }) => judgement.within).length,
        of: attempt.readings.length,
        criticalMissed: 0,
      };
  }
}
