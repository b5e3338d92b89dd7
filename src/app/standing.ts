import type { Alert } from '../charting/alert.ts';
import type { Entry, EntryField } from '../charting/entry.ts';
import type { NotedFinding } from '../charting/evidence.ts';
import { findingCodes, severityOf } from '../measure/finding.ts';

/**
 * What a reviewer should look at before confirming. It forbids nothing; it keeps an entry out of a
 * batch.
 */
export type Against =
  | { readonly code: 'missing'; readonly fields: readonly EntryField[] }
  | { readonly code: 'alert' }
  | { readonly code: 'finding'; readonly finding: NotedFinding }
  | { readonly code: 'disputed'; readonly tries: number }
  | { readonly code: 'doubtful' }
  | { readonly code: 'noReadBack' }
  | { readonly code: 'estimated' }
  | { readonly code: 'late'; readonly lag: number };

/**
 * What stands against confirming an entry in passing, most serious first.
 *
 * @param alerts - those that stand open
 * @param lateAfter - ms
 */
export function againstOf(
  entry: Entry,
  alerts: readonly Alert[],
  lateAfter: number,
): readonly Against[] {
  const { evidence } = entry.draft;
  const spoken = evidence?.heard.some(({ ear }) => ear !== 'typed') === true;
  const found: Against[] = [];
  if (alerts.some((alert) => concerns(alert, entry))) found.push({ code: 'alert' });
  if (entry.missing.length > 0) found.push({ code: 'missing', fields: entry.missing });
  for (const finding of evidence?.findings ?? []) {
    if (pressing(finding)) found.push({ code: 'finding', finding });
  }
  if (evidence !== null && evidence.tries > 1) {
    found.push({ code: 'disputed', tries: evidence.tries });
  }
  if (evidence?.heard.at(-1)?.fit === 'doubtful') found.push({ code: 'doubtful' });
  if (spoken && evidence.readBack === null) found.push({ code: 'noReadBack' });
  if (entry.amount?.method === 'estimated') found.push({ code: 'estimated' });
  if (entry.lag !== null && entry.lag > lateAfter) found.push({ code: 'late', lag: entry.lag });
  return found;
}

/** Only kept for the reviewer, or more? A code that is not known here is more. */
function pressing({ code }: NotedFinding): boolean {
  const known = findingCodes.find((one) => one === code);
  return known === undefined || severityOf(known, {}) !== 'note';
}

/** True when what is to be told belongs to this entry, by its id or by its walk. */
export function concerns(alert: Alert, entry: Entry): boolean {
  const { raised } = alert;
  if (alert.taken !== null) return false;
  return raised.entry === entry.id || (raised.walk !== null && raised.walk === entry.draft.walk);
}

/** 3: something to tell the nurse; 2: not complete; 1: something to look at; 0: nothing. */
export type Weight = 0 | 1 | 2 | 3;

export function weightOf(against: readonly Against[]): Weight {
  const codes = new Set(against.map(({ code }) => code));
  if (codes.has('alert')) return 3;
  if (codes.has('missing')) return 2;
  return codes.size > 0 ? 1 : 0;
}

/** When the entry stands in time: its reading, or its record where the time is missing; ms. */
export function timeOf(entry: Entry): number {
  return (entry.readAt ?? entry.draft.at).ms;
}

/** Most serious first, then oldest first. */
export function queueOrder(
  entries: readonly Entry[],
  alerts: readonly Alert[],
  lateAfter: number,
): readonly Entry[] {
  return entries
    .map((entry) => ({ entry, weight: weightOf(againstOf(entry, alerts, lateAfter)) }))
    .sort(
      (one, other) =>
        other.weight - one.weight ||
        timeOf(one.entry) - timeOf(other.entry) ||
        (one.entry.id < other.entry.id ? -1 : 1),
    )
    .map(({ entry }) => entry);
}
