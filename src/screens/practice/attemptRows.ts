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
    };
  });
}

/** What was judged more than once: a single attempt shows no course. Guided rounds are not judged. */
export function seriesOf(rows: readonly AttemptRow[]): Series[] {
  const names = new Set(rows.filter(({ kind }) => kind !== 'guided').map(({ what }) => what));
  return [...names]
    .map((what) => ({ what, points: rows.filter((row) => row.what === what) }))
    .filter(({ points }) => points.length > 1);
}

function noteOf(attempt: PracticeAttempt): string {
  switch (attempt.kind) {
    case 'guided':
      return words.onlyHeard;
    case 'drill':
      return words.drillNote(attempt.tolerance, attempt.seed);
    case 'recall':
      return [
        ...(attempt.result.complete ? [] : [words.unfinished]),
        ...(attempt.picked > 0 ? [words.picked(attempt.picked)] : []),
      ].join(', ');
  }
}
