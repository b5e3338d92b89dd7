import { foldAlert, type Alert } from '../charting/alert.ts';
import type { Entry, Refusal } from '../charting/entry.ts';
import type { EventOf, LedgerEvent } from '../charting/events.ts';
import { foldEntry } from '../charting/fold.ts';
import type { ReviewRules } from '../charting/reviewRules.ts';
import type { Span } from '../charting/shifts.ts';
import { foldWalk, type WalkRecord } from '../charting/walkRecord.ts';
import type { GroupQuery, Ledger, Result } from './ledger.ts';

export interface EntryQuery {
  readonly span?: Span;
  readonly bed?: string;
  /** Only entries that wait for a reviewer. */
  readonly waiting?: boolean;
  readonly limit?: number;
}

/** Entries by time of reading; those whose draft has not arrived are left out. */
export async function entriesIn(
  ledger: Ledger,
  { waiting, ...rest }: EntryQuery,
  rules: ReviewRules,
): Promise<Result<readonly Entry[]>> {
  return folded(
    ledger,
    { ...rest, kind: 'entry', open: waiting },
    (events) => foldEntry(events, rules).entry,
  );
}

/** One entry with its whole history, or null where there is none. */
export async function entryOf(
  ledger: Ledger,
  id: string,
  rules: ReviewRules,
): Promise<Result<Entry | null>> {
  const events = await ledger.group(id);
  return events.ok ? { ok: true, value: foldEntry(events.value, rules).entry } : events;
}

/** Alerts that were told and that no nurse has taken, oldest first. */
export function openAlerts(ledger: Ledger): Promise<Result<readonly Alert[]>> {
  return folded(ledger, { kind: 'alert', open: true }, foldAlert);
}

/** Alerts raised in a span, oldest first, taken or not. */
export function alertsIn(ledger: Ledger, span: Span): Promise<Result<readonly Alert[]>> {
  return folded(ledger, { kind: 'alert', span }, foldAlert);
}

/** Walks that began in a span, oldest first. */
export function walksIn(ledger: Ledger, span: Span): Promise<Result<readonly WalkRecord[]>> {
  return folded(ledger, { kind: 'walk', span }, foldWalk);
}

/** When this person opened a page last, or null; looks back through the given span only. */
export async function lastLook(
  ledger: Ledger,
  page: EventOf<'page.viewed'>['page'],
  initials: string,
  span: Span,
): Promise<Result<number | null>> {
  const looks = await folded(ledger, { kind: 'note', span }, ([event]) =>
    event?.type === 'page.viewed' && event.page === page && event.by.initials === initials
      ? event.at.ms
      : null,
  );
  return looks.ok ? { ok: true, value: looks.value.at(-1) ?? null } : looks;
}

/** Decisions of one person that the fold refused, so that they can be told. */
export function refusedOf(entries: readonly Entry[], initials: string): readonly Refusal[] {
  return entries.flatMap(({ refused }) =>
    refused.filter(({ event }) => event.by.initials === initials),
  );
}

async function folded<T>(
  ledger: Ledger,
  query: GroupQuery,
  fold: (events: readonly LedgerEvent[]) => T | null,
): Promise<Result<readonly T[]>> {
  const groups = await ledger.groups(query);
  if (!groups.ok) return groups;
  const value = groups.value.map(fold).filter((it) => it !== null);
  return { ok: true, value };
}
