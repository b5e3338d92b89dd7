import type { Entry } from './entry.ts';
import {
  hoursOf,
  shiftsOfDay,
  within,
  type DaySpan,
  type HourSpan,
  type ShiftPlan,
  type ShiftSpan,
  type Span,
} from './shifts.ts';
import { sumsOf, type Sums } from './sums.ts';
import type { TemporalApi } from './temporal.ts';

export interface SheetHour {
  readonly span: HourSpan;
  readonly sums: Sums;
  readonly entries: readonly Entry[];
  /** Intake minus output since the day's edge, measured mL, confirmed and waiting together. */
  readonly running: number;
}

export interface SheetShift {
  readonly span: ShiftSpan;
  readonly sums: Sums;
}

/** Intake and output of one bed on one day of the unit. */
export interface Sheet {
  readonly bed: string;
  readonly day: DaySpan;
  readonly hours: readonly SheetHour[];
  readonly shifts: readonly SheetShift[];
  readonly total: Sums;
  /** By time of reading; those entered in error too, which count nowhere. */
  readonly entries: readonly Entry[];
}

/**
 * The sheet of a bed and a day.
 *
 * @param entries - may hold other beds and days; what has no time is in no sheet
 */
export function sheetOf(
  temporal: TemporalApi,
  plan: ShiftPlan,
  bed: string,
  day: DaySpan,
  entries: readonly Entry[],
): Sheet {
  const own = inSpan(entries, day).filter((entry) => entry.bed === bed);
  let running = 0;
  const hours = hoursOf(temporal, plan.zone, day).map((span) => {
    const some = inSpan(own, span);
    const sums = sumsOf(some);
    running += sums.balance.withWaiting.measured;
    return { span, sums, entries: some, running };
  });
  const shifts = shiftsOfDay(temporal, plan, day).map((span) => ({
    span,
    sums: sumsOf(inSpan(own, span)),
  }));
  return { bed, day, hours, shifts, total: sumsOf(own), entries: own };
}

export interface WingRow {
  readonly bed: string;
  readonly sums: Sums;
  readonly entries: readonly Entry[];
}

/** All beds of one shift. */
export interface Wing {
  readonly span: Span;
  readonly rows: readonly WingRow[];
  readonly total: Sums;
}

/**
 * The wing for a span, a row for each bed in the order given.
 *
 * @param beds - a bed with entries that is missing here gets a row at the end: nothing drops out
 */
export function wingOf(beds: readonly string[], span: Span, entries: readonly Entry[]): Wing {
  const own = inSpan(entries, span);
  const others = own.map(({ bed }) => bed ?? '').filter((bed) => !beds.includes(bed));
  const rows = [...beds, ...[...new Set(others)].sort()].map((bed) => {
    const some = own.filter((entry) => (entry.bed ?? '') === bed);
    return { bed, sums: sumsOf(some), entries: some };
  });
  return { span, rows, total: sumsOf(own) };
}

function inSpan(entries: readonly Entry[], span: Span): Entry[] {
  return entries
    .filter(({ readAt }) => readAt !== null && within(span, readAt.ms))
    .sort(
      (one, other) =>
        (one.readAt?.ms ?? 0) - (other.readAt?.ms ?? 0) || (one.id < other.id ? -1 : 1),
    );
}
