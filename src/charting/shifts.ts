import type { Temporal } from 'temporal-polyfill';
import type { TemporalApi } from './temporal.ts';

/** When the unit's shifts and its day begin, by the clock on its wall. */
export interface ShiftPlan {
  /** IANA zone of the unit: `Europe/Berlin`. */
  readonly zone: string;
  /** In any order; each lasts until the next begins. */
  readonly shifts: readonly { readonly name: string; readonly from: string }[];
  /** Where the 24 h totals are closed: `07:00`, `00:00`. */
  readonly dayFrom: string;
}

/** Common practice, no source; the worked shift sum of nursing notes runs 07 to 15. */
export const eightHourShifts: ShiftPlan['shifts'] = [
  { name: 'day', from: '07:00' },
  { name: 'evening', from: '15:00' },
  { name: 'night', from: '23:00' },
];

/** Common practice, no source. */
export const twelveHourShifts: ShiftPlan['shifts'] = [
  { name: 'day', from: '07:00' },
  { name: 'night', from: '19:00' },
];

export type PlanFault = 'zone_unknown' | 'shifts_missing' | 'edge_malformed' | 'edge_twice';

/** From `from` on, up to but without `to`; ms since the Unix epoch. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** A span with its date: the calendar day on which it began, `2026-03-02`. */
export interface DaySpan extends Span {
  readonly date: string;
}

export interface ShiftSpan extends DaySpan {
  readonly name: string;
}

/** An hour by the wall clock. The hour that happens twice is two of these, told apart by offset. */
export interface HourSpan extends Span {
  /** Wall clock at its beginning, `0100`. */
  readonly label: string;
  /** Minutes east of UTC. */
  readonly offset: number;
}

const edgeShape = /^([01]\d|2[0-3]):([0-5]\d)$/;

/** What is wrong with a plan; empty when it can be used. */
export function planFaults(temporal: TemporalApi, plan: ShiftPlan): readonly PlanFault[] {
  const faults: PlanFault[] = [];
  try {
    temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(plan.zone);
  } catch {
    faults.push('zone_unknown');
  }
  const edges = plan.shifts.map(({ from }) => from);
  if (edges.length === 0) faults.push('shifts_missing');
  if (![...edges, plan.dayFrom].every((edge) => edgeShape.test(edge))) {
    faults.push('edge_malformed');
  }
  if (new Set(edges).size < edges.length) faults.push('edge_twice');
  return faults;
}

/** True when a time lies in a span. */
export function within(span: Span, ms: number): boolean {
  return span.from <= ms && ms < span.to;
}

/**
 * The unit's day that begins on this date: 24 h, or 23, 25 or what the clocks make of it.
 *
 * @param date - `2026-03-29`
 */
export function dayOn(temporal: TemporalApi, plan: ShiftPlan, date: string): DaySpan {
  const day = temporal.PlainDate.from(date);
  return {
    date,
    from: edgeMs(day, plan.dayFrom, plan.zone),
    to: edgeMs(day.add({ days: 1 }), plan.dayFrom, plan.zone),
  };
}

/** The unit's day that an instant belongs to. */
export function dayOf(temporal: TemporalApi, plan: ShiftPlan, ms: number): DaySpan {
  const near = dateOf(temporal, plan.zone, ms);
  for (const days of [0, -1, 1]) {
    const span = dayOn(temporal, plan, near.add({ days }).toString());
    if (within(span, ms)) return span;
  }
  throw new Error(`day_unfound: no day of ${plan.zone} holds ${ms}`);
}

/** The shift that an instant belongs to. A shift over midnight bears the date it began on. */
export function shiftOf(temporal: TemporalApi, plan: ShiftPlan, ms: number): ShiftSpan {
  const around = shiftsAround(temporal, plan, { from: ms, to: ms + 1 });
  const found = around.find((span) => within(span, ms));
  if (found === undefined) throw new Error(`shift_unfound: no shift of ${plan.zone} holds ${ms}`);
  return found;
}

/**
 * The shifts of a day, cut at the day's edges: with a day from midnight, the night shift is there
 * twice, as its early and its late part. Together they are the whole day, nothing doubled.
 */
export function shiftsOfDay(
  temporal: TemporalApi,
  plan: ShiftPlan,
  day: Span,
): readonly ShiftSpan[] {
  return shiftsAround(temporal, plan, day)
    .filter((shift) => shift.from < day.to && shift.to > day.from)
    .map((shift) => ({
      ...shift,
      from: Math.max(shift.from, day.from),
      to: Math.min(shift.to, day.to),
    }));
}

/** The hours of a span by the wall clock of the zone, cut where the clocks are changed. */
export function hoursOf(temporal: TemporalApi, zone: string, span: Span): readonly HourSpan[] {
  const hours: HourSpan[] = [];
  let from = span.from;
  while (from < span.to) {
    const at = temporal.Instant.fromEpochMilliseconds(from).toZonedDateTimeISO(zone);
    const whole = from + (60 - at.minute) * 60_000 - at.second * 1_000 - at.millisecond;
    const change = at.getTimeZoneTransition('next')?.epochMilliseconds ?? Infinity;
    const to = Math.min(whole, change, span.to);
    const label = `${two(at.hour)}${two(at.minute)}`;
    hours.push({ from, to, label, offset: Math.round(at.offsetNanoseconds / 60e9) });
    from = to;
  }
  return hours;
}

const two = (value: number): string => String(value).padStart(2, '0');

function dateOf(temporal: TemporalApi, zone: string, ms: number): Temporal.PlainDate {
  return temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone).toPlainDate();
}

/** An edge that the clocks jump over counts from the jump; one that comes twice, from the first. */
function edgeMs(date: Temporal.PlainDate, edge: string, zone: string): number {
  const clock = edgeShape.exec(edge);
  if (clock === null) throw new RangeError(`edge_malformed: expected HH:MM, got ${edge}`);
  const plain = date.toPlainDateTime({ hour: Number(clock[1]), minute: Number(clock[2]) });
  return plain.toZonedDateTime(zone, { disambiguation: 'compatible' }).epochMilliseconds;
}

function shiftsAround(temporal: TemporalApi, plan: ShiftPlan, span: Span): ShiftSpan[] {
  const last = dateOf(temporal, plan.zone, span.to).add({ days: 1 });
  const starts: { name: string; date: string; from: number }[] = [];
  let date = dateOf(temporal, plan.zone, span.from).add({ days: -1 });
  for (; !date.equals(last.add({ days: 1 })); date = date.add({ days: 1 })) {
    for (const { name, from } of plan.shifts) {
      starts.push({ name, date: date.toString(), from: edgeMs(date, from, plan.zone) });
    }
  }
  starts.sort((one, other) => one.from - other.from);
  return starts.flatMap((start, place) => {
    const next = starts[place + 1];
    // Two edges may fall on one instant on the night the clocks jump: that shift has no time.
    return next === undefined || next.from === start.from ? [] : [{ ...start, to: next.from }];
  });
}
