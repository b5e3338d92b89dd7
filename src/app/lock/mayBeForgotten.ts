import type { LedgerEvent } from '../../charting/events.ts';

/**
 * Whether the page may be left though this event is not kept. Only looks in a tab that follows may:
 * what a person decided or read is held until it is kept.
 */
export function mayBeForgotten({ type }: LedgerEvent, writes: boolean): boolean {
  return !writes && (type === 'page.viewed' || type === 'entry.viewed');
}
