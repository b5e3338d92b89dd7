import { sameData } from '../charting/canonicalJson.ts';
import type { ChainFault } from '../charting/chain.ts';
import type { LedgerEvent } from '../charting/events.ts';
import { groupOf } from '../charting/group.ts';
import { checkBackup, type BackupFault, type BackupRefusal, type BackupTools } from './backup.ts';
import type { Ledger, StorageFault } from './ledger.ts';

export type Restored =
  | {
      readonly ok: true;
      readonly added: number;
      /** Events that were there already. */
      readonly known: number;
      readonly faults: readonly ChainFault[];
    }
  /** Refused whole; the ledger is untouched. */
  | ({ readonly ok: false; readonly refused: true } & BackupRefusal)
  /** The store gave up, or the file was changed, on the way. What it took is sound; restoring again goes on from there. */
  | {
      readonly ok: false;
      readonly refused: false;
      readonly fault: BackupFault | StorageFault;
      readonly added: number;
    };

/**
 * Bring a backup back: first all of it is read and compared with what is kept, then it is added.
 * Restoring twice changes nothing.
 *
 * @param lines - the file's lines from the beginning, each time it is called
 */
export async function restoreBackup(
  ledger: Ledger,
  lines: () => AsyncIterable<string> | Iterable<string>,
  tools: BackupTools,
  part = 500,
): Promise<Restored> {
  const checked = await checkBackup(lines(), tools, (event) => conflictOf(ledger, event));
  if (!checked.ok) return { ...checked, refused: true };

  let added = 0;
  let known = 0;
  let waiting: LedgerEvent[] = [];
  const flush = async (): Promise<StorageFault | null> => {
    const done = await ledger.append(waiting);
    waiting = [];
    if (!done.ok) return done.fault;
    added += done.value.added;
    known += done.value.known;
    return null;
  };
  // Checked again while it is added: someone may have written to the file since.
  const again = await checkBackup(lines(), tools, (event) => {
    waiting.push(event);
    return waiting.length < part ? Promise.resolve(null) : flush();
  });
  const fault = again.ok ? await flush() : again.fault;
  if (fault !== null) return { ok: false, refused: false, fault, added };
  return { ok: true, added, known, faults: checked.faults };
}

/** Whether an event can not stand beside what is kept: its place or its id says something else. */
async function conflictOf(ledger: Ledger, event: LedgerEvent): Promise<StorageFault | null> {
  const page = await ledger.read({ device: event.device, seq: event.seq - 1 }, 1);
  if (!page.ok) return page.fault;
  const [there] = page.value.events;
  if (there?.device === event.device && there.seq === event.seq) {
    if (sameData(there, event)) return null;
    return there.id === event.id ? 'event_differs' : 'chain_forked';
  }
  const group = await ledger.group(groupOf(event));
  if (!group.ok) return group.fault;
  return group.value.some(({ id }) => id === event.id) ? 'event_differs' : null;
}
