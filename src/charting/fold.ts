import { ledgerVersion, type DecisionEvent, type EventOf, type LedgerEvent } from './events.ts';
import type { Entry, Refusal, RefusalCode } from './entry.ts';
import {
  actOf,
  futureAllowance,
  missingFields,
  refusalOf,
  type ReviewRules,
} from './reviewRules.ts';
import { stateAfter, stateAfterUndo, statusOf, type EntryState } from './status.ts';

/** By time recorded, then device and place in its chain: one order whatever the order of arrival. */
export function byTime(one: LedgerEvent, other: LedgerEvent): number {
  return (
    one.at.ms - other.at.ms ||
    (one.device < other.device ? -1 : one.device > other.device ? 1 : 0) ||
    one.seq - other.seq
  );
}

export interface FoldedEntry {
  /** Null while the draft has not arrived. */
  readonly entry: Entry | null;
  readonly refused: readonly Refusal[];
}

/**
 * The entry that its events make, whatever the order they came in.
 *
 * Decisions are taken along the versions that they saw: from the draft on, of the decisions that saw
 * the version standing last, the earliest allowed one is taken and makes the next version. So a
 * clock that was set back between two events changes nothing, and of two that decided at once the
 * later is refused and named.
 *
 * @param events - all known events of one entry
 */
export function foldEntry(events: readonly LedgerEvent[], rules: ReviewRules): FoldedEntry {
  const refused: Refusal[] = [];
  const refuse = (event: LedgerEvent, code: RefusalCode, because: string | null = null): void => {
    refused.push({ event, code, because });
  };
  const drafts: EventOf<'entry.drafted'>[] = [];
  const views: EventOf<'entry.viewed'>[] = [];
  const decisions: DecisionEvent[] = [];
  const ids = new Set<string>();
  for (const event of [...events].sort(byTime)) {
    if (ids.has(event.id)) continue;
    ids.add(event.id);
    if (event.v > ledgerVersion) refuse(event, 'version_newer');
    else if (event.type === 'entry.drafted') drafts.push(event);
    else if (event.type === 'entry.viewed') views.push(event);
    else if (isDecision(event)) decisions.push(event);
  }
  const [draft, ...again] = drafts;
  if (draft === undefined) {
    for (const event of [...decisions, ...views]) refuse(event, 'version_unknown');
    return { entry: null, refused };
  }
  for (const event of again) refuse(event, 'drafted_twice', draft.id);

  const first = startOf(draft);
  if (draft.readAt !== null && first.readAt === null) refuse(draft, 'reading_in_future');
  const last = walkVersions(first, decisions, rules, refuse);
  return { entry: { ...last, views, refused }, refused };
}

type Refuse = (event: LedgerEvent, code: RefusalCode, because?: string | null) => void;

function walkVersions(
  first: Entry,
  decisions: readonly DecisionEvent[],
  rules: ReviewRules,
  refuse: Refuse,
): Entry {
  const seen = new Map<string, DecisionEvent[]>();
  for (const event of decisions) seen.set(event.saw, [...(seen.get(event.saw) ?? []), event]);
  const before = new Map<string, Entry>();
  const open = new Set(decisions);
  let entry = first;
  for (;;) {
    let taken: DecisionEvent | null = null;
    for (const event of seen.get(entry.head) ?? []) {
      open.delete(event);
      const code = taken === null ? refusalOf(entry, event, rules) : 'decided_already';
      if (code === null) taken = event;
      else refuse(event, code, taken?.id ?? null);
    }
    if (taken === null) break;
    const next = applied(entry, taken, before);
    before.set(taken.id, entry);
    entry = next;
  }
  const known = new Set(decisions.map(({ id }) => id));
  for (const event of open) {
    // It built on a decision that did not stand, or on one that has not arrived.
    if (known.has(event.saw)) refuse(event, 'decided_already', event.saw);
    else refuse(event, 'version_unknown');
  }
  return entry;
}

function isDecision(event: LedgerEvent): event is DecisionEvent {
  return (
    event.type === 'entry.confirmed' ||
    event.type === 'entry.amended' ||
    event.type === 'entry.struck' ||
    event.type === 'decision.undone'
  );
}

function startOf(draft: EventOf<'entry.drafted'>): Entry {
  const { bed, kind, amount, reader } = draft;
  const future = draft.readAt !== null && draft.readAt.ms > draft.at.ms + futureAllowance;
  const readAt = future ? null : draft.readAt;
  return {
    id: draft.entry,
    ...standing('preliminary'),
    head: draft.id,
    bed,
    kind,
    amount,
    readAt,
    reader,
    draft,
    missing: missingFields({ bed, kind, amount, readAt, reader }),
    confirmedBy: null,
    confirmedAt: null,
    lag: readAt === null ? null : draft.at.ms - readAt.ms,
    history: [draft],
    views: [],
    refused: [],
  };
}

function applied(entry: Entry, event: DecisionEvent, before: ReadonlyMap<string, Entry>): Entry {
  const next = { ...entry, head: event.id, history: [...entry.history, event] };
  // It was allowed, so there is a state to go to.
  const after = isAct(event) ? stateAfter(entry.state, actOf[event.type]) : null;
  const reached = standing(after ?? entry.state);
  switch (event.type) {
    case 'entry.confirmed':
      return { ...next, ...reached, confirmedBy: event.by, confirmedAt: event.at };
    case 'entry.struck':
      return { ...next, ...reached };
    case 'entry.amended': {
      const { amount, kind, readAt, bed, reader } = event.changes;
      const fields = {
        amount: amount?.is ?? entry.amount,
        kind: kind?.is ?? entry.kind,
        readAt: readAt?.is ?? entry.readAt,
        bed: bed?.is ?? entry.bed,
        reader: reader?.is ?? entry.reader,
      };
      return {
        ...next,
        ...fields,
        ...reached,
        missing: missingFields(fields),
        lag: fields.readAt === null ? null : entry.draft.at.ms - fields.readAt.ms,
      };
    }
    case 'decision.undone': {
      const undone = entry.history.at(-1);
      const back = before.get(event.undoes) ?? entry;
      const state = undone && isAct(undone) ? stateAfterUndo(back.state, actOf[undone.type]) : null;
      return { ...back, ...standing(state ?? back.state), head: event.id, history: next.history };
    }
    default:
      throw unexpected(event);
  }
}

function standing(state: EntryState): Pick<Entry, 'state' | 'status'> {
  return { state, status: statusOf(state) };
}

function isAct(
  event: Entry['history'][number],
): event is EventOf<'entry.confirmed' | 'entry.amended' | 'entry.struck'> {
  return event.type in actOf;
}

function unexpected(event: never): Error {
  return new Error(`decision_unknown: ${JSON.stringify(event)}`);
}
