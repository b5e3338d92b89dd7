import type { FluidKind } from '../measure/fluid.ts';
import type { Alert } from './alert.ts';
import type { Entry } from './entry.ts';
import { sumsOf, type Sums } from './sums.ts';

/** How long after a reading of a kind the next is due; the unit's own settings. */
export interface DueRule {
  readonly kind: FluidKind;
  /** Minutes, more than 0. */
  readonly every: number;
}

/** At least every 8 h or at the end of the shift: common teaching, the unit may change it. */
export const usualDueRules: readonly DueRule[] = [{ kind: 'urineCatheter', every: 480 }];

export interface Due {
  readonly kind: FluidKind;
  /** The last reading, ms since the Unix epoch. */
  readonly last: number;
  /** When the next is due, ms since the Unix epoch. */
  readonly at: number;
  /** Minutes past due; negative before. */
  readonly over: number;
}

export interface HandoverRow {
  readonly bed: string;
  /** Entries that were recorded or decided on since the last look, by time of reading. */
  readonly fresh: readonly Entry[];
  readonly sums: Sums;
  /** Told and not yet taken, oldest first. */
  readonly alerts: readonly Alert[];
  /** Most overdue first. Only beds with an earlier reading of that kind can be due. */
  readonly due: readonly Due[];
}

export interface Handover {
  readonly since: number;
  readonly now: number;
  readonly rows: readonly HandoverRow[];
  /** Open alerts and entries that name no bed: they have no row and must not drop out. */
  readonly bedless: { readonly alerts: readonly Alert[]; readonly entries: readonly Entry[] };
}

export interface HandoverInput {
  readonly beds: readonly string[];
  /** When the person looked last, ms since the Unix epoch. */
  readonly since: number;
  readonly now: number;
  /** Of as many hours back as the longest due rule, at least since `since`. */
  readonly entries: readonly Entry[];
  readonly alerts: readonly Alert[];
  readonly rules: readonly DueRule[];
}

/** What the next shift must hear: times and amounts, what was told and not taken, who is due. */
export function handoverOf(input: HandoverInput): Handover {
  const { since, now, entries } = input;
  const open = input.alerts
    .filter(({ taken }) => taken === null)
    .sort((one, other) => one.raised.at.ms - other.raised.at.ms);
  const named = [...entries.map(({ bed }) => bed), ...open.map(({ raised }) => raised.bed)];
  const others = new Set(named.map((bed) => bed ?? '').filter((bed) => bed !== ''));
  for (const bed of input.beds) others.delete(bed);
  const rows = [...input.beds, ...[...others].sort()].map((bed) => {
    const own = entries.filter((entry) => entry.bed === bed).sort(byReading);
    const fresh = own.filter((entry) => lastChange(entry) >= since);
    return {
      bed,
      fresh,
      sums: sumsOf(fresh),
      alerts: open.filter(({ raised }) => raised.bed === bed),
      due: dueOf(own, now, input.rules),
    };
  });
  return {
    since,
    now,
    rows,
    bedless: {
      alerts: open.filter(({ raised }) => raised.bed === null || raised.bed === ''),
      entries: entries.filter(({ bed }) => bed === null || bed === ''),
    },
  };
}

/** What is due for one bed, by its own entries. */
export function dueOf(
  entries: readonly Entry[],
  now: number,
  rules: readonly DueRule[],
): readonly Due[] {
  const dues = rules.flatMap(({ kind, every }) => {
    const times = entries
      .filter((entry) => entry.kind === kind && entry.status !== 'entered-in-error')
      .map(({ readAt }) => readAt?.ms ?? -Infinity);
    const last = Math.max(-Infinity, ...times);
    if (!Number.isFinite(last)) return [];
    const at = last + every * 60_000;
    return [{ kind, last, at, over: Math.floor((now - at) / 60_000) }];
  });
  return dues.sort((one, other) => other.over - one.over);
}

function byReading(one: Entry, other: Entry): number {
  return (one.readAt?.ms ?? 0) - (other.readAt?.ms ?? 0);
}

function lastChange(entry: Entry): number {
  return Math.max(...entry.history.map(({ at }) => at.ms));
}
