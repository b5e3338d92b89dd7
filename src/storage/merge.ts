import { sameData } from '../charting/canonicalJson.ts';
import type { LedgerEvent } from '../charting/events.ts';
import { groupOf } from '../charting/group.ts';
import type { Result } from './ledger.ts';

export interface Merged {
  /** Events to add, by group. */
  readonly fresh: ReadonlyMap<string, readonly LedgerEvent[]>;
  readonly added: number;
  readonly known: number;
}

/**
 * The union of what is kept and what comes.
 *
 * @param kept - all kept events of the groups that the new ones belong to
 */
export function merged(
  kept: Iterable<LedgerEvent>,
  coming: readonly LedgerEvent[],
): Result<Merged, 'event_differs'> {
  const byId = new Map<string, LedgerEvent>();
  for (const event of kept) byId.set(event.id, event);
  const fresh = new Map<string, LedgerEvent[]>();
  let added = 0;
  for (const event of coming) {
    const same = byId.get(event.id);
    if (same !== undefined && !sameData(same, event)) return { ok: false, fault: 'event_differs' };
    if (same !== undefined) continue;
    byId.set(event.id, event);
    added += 1;
    const group = groupOf(event);
    const list = fresh.get(group);
    if (list === undefined) fresh.set(group, [event]);
    else list.push(event);
  }
  return { ok: true, value: { fresh, added, known: coming.length - added } };
}
