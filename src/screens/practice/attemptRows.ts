import { levelsInRound } from '../../conversation/practice/drillLevels.ts';
import { clockText, isoOf } from '../../measure/moment.ts';
import type { Container } from '../../measure/vessel.ts';
import { practiceScore, type PracticeAttempt } from '../../procedures/practice.ts';
import type { Procedure } from '../../procedures/schema.ts';
import { shortDateText } from '../../words/en-US/dates.ts';
import { practice } from '../../words/en-US/practice.ts';

/** One attempt as a line of the page. */
export interface AttemptRow {
  readonly id: string;
  readonly kind: PracticeAttempt['kind'];
  readonly when: string;
  readonly what: string;
  readonly right: number;
  readonly of: number;
  readonly critical: number;
  readonly note: string;
  /** True for a judged round that was gone through to its end: those can be compared. */
  readonly comparable: boolean;
}

/** Attempts of one thing in their order. */
export interface Series {
  readonly what: string;
  readonly points: readonly AttemptRow[];
}

const words = practice.attempts;

/** Attempts as lines, in the order in which they are given. What is no longer known keeps its id. */
export function attemptRows(
  attempts: readonly PracticeAttempt[],
  containers: readonly Container[],
  procedures: readonly Procedure[],
): AttemptRow[] {
  return attempts.map((attempt) => {
    const { right, of, criticalMissed } = practiceScore(attempt);
    const name =
      attempt.kind === 'drill'
        ? (containers.find(({ id }) => id === attempt.container)?.label ?? attempt.container)
        : (procedures.find(({ id }) => id === attempt.procedure)?.title ?? attempt.procedure);
    return {
      id: attempt.id,
      kind: attempt.kind,
      when: `${shortDateText(isoOf(attempt.at).slice(0, 10))} ${clockText(attempt.at)}`,
      what: `${words.kinds[attempt.kind]}: ${name}`,
      right,
      of,
      critical: criticalMissed,
      note: noteOf(attempt),
      comparable: attempt.kind !== 'guided' && isWhole(attempt),
    };
  });
}

/** What was gone through more than once: a single round shows no course, and half a one flatters. */
export function seriesOf(rows: readonly AttemptRow[]): Series[] {
  const whole = rows.filter(({ comparable }) => comparable);
  const names = new Set(whole.map(({ what }) => what));
  return [...names]
    .map((what) => ({ what, points: whole.filter((row) => row.what === what) }))
    .filter(({ points }) => points.length > 1);
}

function isWhole(attempt: PracticeAttempt): boolean {
  switch (attempt.kind) {
    case 'guided':
      return true;
    case 'recall':
      return attempt.result.complete;
    case 'drill':
      return attempt.readings.length >= levelsInRound;
  }
}

function noteOf(attempt: PracticeAttempt): string {
  const notes: string[] = isWhole(attempt) ? [] : [words.unfinished];
  switch (attempt.kind) {
    case 'guided':
      notes.push(words.heard(attempt.steps));
      break;
    case 'drill':
      notes.push(words.drillNote(attempt.tolerance, attempt.seed));
      break;
    case 'recall':
      if (attempt.picked > 0) notes.push(words.picked(attempt.picked));
  }
  return notes.join(', ');
}
