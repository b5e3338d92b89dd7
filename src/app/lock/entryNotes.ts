import type { LockNoted } from '../../charting/events.ts';
import type { Moment } from '../../measure/moment.ts';
import type { Entered } from './LockSession.svelte.ts';

/** What goes into the record once somebody is in: the tries that were refused before, and who it was. */
export function entryNotes(
  { wrong, vault }: Pick<Entered, 'wrong' | 'vault'>,
  momentAt: (ms: number) => Moment,
): LockNoted[] {
  const refused: LockNoted = {
    type: 'lock.noted',
    what: 'refused',
    tries: wrong.count,
    lastTry: momentAt(wrong.at),
  };
  const what = vault.kind === 'recovery' ? 'recovered' : 'unlocked';
  return [...(wrong.count > 0 ? [refused] : []), { type: 'lock.noted', what }];
}
