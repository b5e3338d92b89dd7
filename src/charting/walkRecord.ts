import type { EventOf, LedgerEvent } from './events.ts';
import { byTime } from './fold.ts';

/** That a walk through a procedure began, and how it ended. */
export interface WalkRecord {
  readonly id: string;
  readonly started: EventOf<'walk.started'>;
  /** Null while it goes on, or was left by a device that never came back. */
  readonly ended: EventOf<'walk.ended'> | null;
}

/**
 * The walk that its events make, or null while its start has not arrived. The first end stands.
 *
 * @param events - all known events of one walk, in any order
 */
export function foldWalk(events: readonly LedgerEvent[]): WalkRecord | null {
  let started: EventOf<'walk.started'> | null = null;
  let ended: EventOf<'walk.ended'> | null = null;
  for (const event of [...events].sort(byTime)) {
    if (event.type === 'walk.started') started ??= event;
    else if (event.type === 'walk.ended') ended ??= event;
  }
  return started === null ? null : { id: started.walk, started, ended };
}
