import { sameData } from '../../charting/canonicalJson.ts';
import { faultOf, StorageFaultError } from '../storageFault.ts';
import type { Ledger, Page, Place, Result } from '../ledger.ts';
import { stateKeys, type StateStore } from '../stateStore.ts';
import { valueOf } from './lockShelf.ts';

/** How a copy is watched, and stopped. */
export interface Watched {
  /** Called with the events copied so far. */
  readonly told?: (done: number) => void;
  /** Whoever gives up waiting; the copy is then left where it is, and nothing is taken away. */
  readonly signal?: AbortSignal;
  /** Events copied at a time. */
  readonly part?: number;
}

/** A record and the small state beside it. */
export interface WholeRecord {
  readonly ledger: Pick<Ledger, 'read' | 'append' | 'count'>;
  readonly states: Pick<StateStore, 'take' | 'put'>;
}

/**
 * Copy a whole record into an empty one under another key, then read both and compare every event and
 * every value. Nothing is taken away here: that is for the caller, once this said that all is there.
 *
 * @returns how many events there are; `storage_failed` where the copy is not the same, or was stopped
 */
export async function copyRecord(
  from: WholeRecord,
  to: WholeRecord,
  { told, signal, part = 500 }: Watched,
): Promise<Result<number>> {
  try {
    let after: Place | null = null;
    let done = 0;
    do {
      const page: Page = valueOf(await from.ledger.read(after, part));
      valueOf(await to.ledger.append(page.events));
      done += page.events.length;
      told?.(done);
      signal?.throwIfAborted();
      after = page.next;
    } while (after !== null);
    for (const key of stateKeys) {
      const value = valueOf(await from.states.take(key));
      if (value !== undefined) valueOf(await to.states.put(key, value));
    }
    return { ok: true, value: await compared(from, to, part, signal) };
  } catch (error) {
    return { ok: false, fault: faultOf(error) };
  }
}

/** @throws {StorageFaultError} */
async function compared(
  from: WholeRecord,
  to: WholeRecord,
  part: number,
  signal: AbortSignal | undefined,
): Promise<number> {
  let after: Place | null = null;
  let count = 0;
  do {
    const here: Page = valueOf(await from.ledger.read(after, part));
    const there: Page = valueOf(await to.ledger.read(after, part));
    if (!sameData(here.events, there.events)) throw new StorageFaultError('storage_failed');
    count += here.events.length;
    signal?.throwIfAborted();
    after = here.next;
  } while (after !== null);
  const counts = [valueOf(await from.ledger.count()), valueOf(await to.ledger.count())];
  if (counts.some((each) => each !== count)) throw new StorageFaultError('storage_failed');
  for (const key of stateKeys) {
    const [here, there] = [await from.states.take(key), await to.states.take(key)].map(valueOf);
    if (JSON.stringify(here) !== JSON.stringify(there)) {
      throw new StorageFaultError('storage_failed');
    }
  }
  return count;
}
