import { sameData } from './canonicalJson.ts';
import type { Entry, EntryField, RefusalCode } from './entry.ts';
import type { Author, DecisionEvent, EntryChanges } from './events.ts';
import { stateAfter, type Act } from './status.ts';

/**
 * The unit's own rules for reviewing.
 *
 * Whether a person may confirm an entry of their own is kept as the times at which it was allowed:
 * a setting that is changed today decides nothing that was decided yesterday.
 */
export interface ReviewRules {
  /** Spans in ms since the Unix epoch, `until` exclusive and null while it lasts. */
  readonly ownReview: readonly { readonly from: number; readonly until: number | null }[];
}

export const strictRules: ReviewRules = { ownReview: [] };

/** How far a reading may lie after its record before it is in the future, ms: clocks differ a little. */
export const futureAllowance = 60_000;

/** What a decision does to the state. */
export const actOf = {
  'entry.confirmed': 'confirm',
  'entry.amended': 'amend',
  'entry.struck': 'strike',
} as const satisfies Partial<Record<DecisionEvent['type'], Act>>;

function ownReviewAllowed(rules: ReviewRules, ms: number): boolean {
  return rules.ownReview.some(({ from, until }) => from <= ms && (until === null || ms < until));
}

/** True when this person drafted the entry or read its level. */
export function isAuthor(entry: Entry, by: Author): boolean {
  return entry.draft.by.initials === by.initials || entry.draft.reader === by.initials;
}

/** The fields that an entry must have before it may leave preliminary. */
export function missingFields(entry: Pick<Entry, EntryField>): readonly EntryField[] {
  const fields: readonly EntryField[] = ['bed', 'kind', 'amount', 'readAt', 'reader'];
  return fields.filter((field) => entry[field] === null || entry[field] === '');
}

/** Why this person may not do this to the entry as it stands, or null when they may. */
export function forbids(
  entry: Entry,
  act: Act,
  by: Author,
  ms: number,
  rules: ReviewRules,
): RefusalCode | null {
  const ownDraft = act === 'amend' && entry.state === 'preliminary' && isAuthor(entry, by);
  if (by.role !== 'nurse' && !(by.role === 'aide' && ownDraft)) return 'role_forbids';
  if (stateAfter(entry.state, act) === null) return 'status_forbids';
  if (act !== 'confirm') return null;
  if (entry.missing.length > 0) return 'entry_incomplete';
  return isAuthor(entry, by) && !ownReviewAllowed(rules, ms) ? 'reviewer_is_author' : null;
}

function amendmentFault(entry: Entry, changes: EntryChanges, ms: number): RefusalCode | null {
  const pairs = [
    [entry.amount, changes.amount],
    [entry.kind, changes.kind],
    [entry.readAt, changes.readAt],
    [entry.bed, changes.bed],
    [entry.reader, changes.reader],
  ] as const;
  const made = pairs.filter(([, change]) => change !== undefined);
  const sound = made.every(
    ([now, change]) => sameData(now, change?.was) && !sameData(now, change?.is),
  );
  if (made.length === 0 || !sound) return 'change_mismatch';
  const future = changes.readAt !== undefined && changes.readAt.is.ms > ms + futureAllowance;
  return future ? 'reading_in_future' : null;
}

/** Why the fold does not take a decision on the version that it saw, or null when it does. */
export function refusalOf(
  entry: Entry,
  event: DecisionEvent,
  rules: ReviewRules,
): RefusalCode | null {
  if (event.type === 'decision.undone') {
    const last = entry.history.at(-1);
    const undoable = last !== undefined && last.type in actOf && last.id === event.undoes;
    if (!undoable) return 'undo_not_last';
    return last.by.initials === event.by.initials ? null : 'undo_not_own';
  }
  const forbidden = forbids(entry, actOf[event.type], event.by, event.at.ms, rules);
  if (forbidden !== null || event.type === 'entry.confirmed') return forbidden;
  if (event.reason.trim() === '') return 'reason_missing';
  return event.type === 'entry.amended' ? amendmentFault(entry, event.changes, event.at.ms) : null;
}
