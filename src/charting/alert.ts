import type { Refusal } from './entry.ts';
import { ledgerVersion, type EventOf, type LedgerEvent } from './events.ts';
import { byTime } from './fold.ts';

/** Something a nurse is to be told, and who took it. */
export interface Alert {
  readonly id: string;
  readonly raised: EventOf<'alert.raised'>;
  /** Null while it stands open; only a nurse takes it. */
  readonly taken: EventOf<'alert.taken'> | null;
  readonly refused: readonly Refusal[];
}

/**
 * The alert that its events make, or null while its raising has not arrived.
 *
 * @param events - all known events of one alert, in any order
 */
export function foldAlert(events: readonly LedgerEvent[]): Alert | null {
  let raised: EventOf<'alert.raised'> | null = null;
  let taken: EventOf<'alert.taken'> | null = null;
  const refused: Refusal[] = [];
  for (const event of [...events].sort(byTime)) {
    if (event.v > ledgerVersion) refused.push({ event, code: 'version_newer', because: null });
    else if (event.type === 'alert.raised') raised ??= event;
    else if (event.type === 'alert.taken') {
      if (event.by.role !== 'nurse') refused.push({ event, code: 'role_forbids', because: null });
      else if (taken === null) taken = event;
      else if (taken.id !== event.id) {
        refused.push({ event, code: 'decided_already', because: taken.id });
      }
    }
  }
  return raised === null ? null : { id: raised.alert, raised, taken, refused };
}
