import type { Entry } from '../../charting/entry.ts';
import type { Due, Handover } from '../../charting/handover.ts';
import { waitsIn } from '../../charting/status.ts';
import { momentAt } from '../../charting/wallClock.ts';
import type { TemporalApi } from '../../charting/temporal.ts';
import { clockText, type Moment } from '../../measure/moment.ts';
import { spanText } from '../../words/en-US/dates.ts';
import { fluids } from '../../words/en-US/fluids.ts';
import { handover as words } from '../../words/en-US/handover.ts';

/** Dues this far ahead are handed over; later ones are for the shift to see, minutes. */
export const dueSoon = 120;

export function dueNow(dues: readonly Due[]): readonly Due[] {
  return dues.filter(({ over }) => over >= -dueSoon);
}

/** The handover as it is said: short sentences, one bed after the other, what is open first. */
export function aloudOf(handover: Handover, temporal: TemporalApi, zone: string): string {
  const { aloud } = words;
  const clockAt = (ms: number): string => clockAloud(momentAt(temporal, zone, ms));
  const alerts = [...handover.bedless.alerts, ...handover.rows.flatMap((row) => row.alerts)];
  const dues = handover.rows.flatMap(({ bed, due }) => dueNow(due).map((one) => ({ bed, ...one })));
  const told = handover.rows.filter(({ fresh }) => fresh.length > 0);
  const entries = told.flatMap(({ fresh }) => fresh);
  const quiet = handover.rows.filter(
    (row) => row.fresh.length === 0 && row.alerts.length === 0 && dueNow(row.due).length === 0,
  );
  const waiting = entries.filter(({ state }) => waitsIn(state)).length;
  if (alerts.length + dues.length + told.length === 0) {
    return [aloud.begin(clockAt(handover.since)), aloud.nothing, aloud.end].join(' ');
  }
  return [
    aloud.begin(clockAt(handover.since)),
    ...(alerts.length > 0 ? [aloud.tellBegin(alerts.length)] : []),
    ...alerts.map(({ raised }) => aloud.tell(raised.bed ?? words.bedless, raised.words)),
    ...(dues.length > 0 ? [aloud.dueBegin] : []),
    ...dues.map(({ bed, kind, over, at }) =>
      over > 0
        ? aloud.overdue(bed, fluids[kind], spanText(over * 60_000))
        : aloud.due(bed, fluids[kind], clockAt(at)),
    ),
    ...told.map(({ bed, fresh }) =>
      aloud.bed(bed, fresh.filter(counts).map(entryAloud).join('; ')),
    ),
    ...(waiting > 0 ? [aloud.waiting(waiting)] : []),
    ...(quiet.length > 0 ? [aloud.quiet(quiet.map(({ bed }) => bed).join(', '))] : []),
    aloud.end,
  ].join(' ');
}

/** What was struck out is on the page, and not said: a number once heard is remembered. */
function counts({ status }: Entry): boolean {
  return status !== 'entered-in-error';
}

function entryAloud({ kind, readAt, amount }: Entry): string {
  const { aloud } = words;
  const name = kind === null ? '' : fluids[kind];
  const clock = readAt === null ? '' : clockAloud(readAt);
  switch (amount?.method) {
    case undefined:
      return aloud.entry(name, clock, aloud.open);
    case 'measured':
      return aloud.entry(name, clock, aloud.amount(amount.mL));
    case 'estimated':
      return aloud.entry(name, clock, aloud.estimate(amount.mL));
    case 'unmeasured':
      return aloud.entry(name, clock, aloud.unmeasured(amount.count));
  }
}

function clockAloud(moment: Moment): string {
  const clock = clockText(moment);
  return words.aloud.clock(Number(clock.slice(0, 2)), Number(clock.slice(2)));
}
