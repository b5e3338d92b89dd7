import { foldAlert } from './alert.ts';
import type { LedgerEvent } from './events.ts';
import { foldEntry } from './fold.ts';
import type { ReviewRules } from './reviewRules.ts';
import { waitsIn } from './status.ts';
import { foldWalk } from './walkRecord.ts';

export type GroupKind = 'entry' | 'alert' | 'walk' | 'note';

/** What a store keeps of a group beside its events, so that a day is found without the rest. */
export interface GroupIndex {
  readonly group: string;
  readonly kind: GroupKind;
  /** Empty where there is none. */
  readonly bed: string;
  /** Where it stands in time, ms since the Unix epoch: an entry by its reading. */
  readonly ms: number;
  /** 1 while something waits: an entry for its reviewer, an alert for a nurse, a walk for its end. */
  readonly open: 0 | 1;
}

/** The group that an event belongs to: its entry, alert or walk; a view or a lock note stands alone. */
export function groupOf(event: LedgerEvent): string {
  switch (event.type) {
    case 'entry.drafted':
    case 'entry.confirmed':
    case 'entry.amended':
    case 'entry.struck':
    case 'decision.undone':
    case 'entry.viewed':
      return event.entry;
    case 'alert.raised':
    case 'alert.taken':
      return event.alert;
    case 'walk.started':
    case 'walk.ended':
      return event.walk;
    case 'page.viewed':
    case 'lock.noted':
      return event.id;
    default:
      throw unexpected(event);
  }
}

function kindOf(event: LedgerEvent): GroupKind {
  if (event.type.startsWith('alert.')) return 'alert';
  if (event.type.startsWith('walk.')) return 'walk';
  return event.type === 'page.viewed' || event.type === 'lock.noted' ? 'note' : 'entry';
}

/**
 * The index of a group.
 *
 * @param events - all known events of the group, one at least
 * @throws {Error} `group_empty`
 */
export function indexOf(events: readonly LedgerEvent[], rules: ReviewRules): GroupIndex {
  const [any] = events;
  if (any === undefined) throw new Error('group_empty: a group has one event at least');
  const group = groupOf(any);
  const unplaced = { group, kind: kindOf(any), bed: '', ms: any.at.ms, open: 0 } as const;
  switch (unplaced.kind) {
    case 'entry': {
      const { entry } = foldEntry(events, rules);
      if (entry === null) return unplaced;
      const ms = (entry.readAt ?? entry.draft.at).ms;
      const open = waitsIn(entry.state) ? 1 : 0;
      return { ...unplaced, bed: entry.bed ?? '', ms, open };
    }
    case 'alert': {
      const alert = foldAlert(events);
      if (alert === null) return unplaced;
      const { bed, at } = alert.raised;
      return { ...unplaced, bed: bed ?? '', ms: at.ms, open: alert.taken === null ? 1 : 0 };
    }
    case 'walk': {
      const walk = foldWalk(events);
      if (walk === null) return unplaced;
      const { bed, at } = walk.started;
      return { ...unplaced, bed: bed ?? '', ms: at.ms, open: walk.ended === null ? 1 : 0 };
    }
    case 'note':
      return any.type === 'page.viewed' ? { ...unplaced, bed: any.bed ?? '' } : unplaced;
    default:
      throw unexpected(unplaced.kind);
  }
}

function unexpected(value: never): Error {
  return new Error(`event_unknown: ${JSON.stringify(value)}`);
}
