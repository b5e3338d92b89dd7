import { webDigest } from '../storage/sha256.ts';
import { RecordCheck } from './RecordCheck.svelte.ts';
import type { Stores } from './storage.ts';

const made = new WeakMap<Stores['ledger'], RecordCheck>();

/** The check of a record; one for as long as the page lives, so that it goes on where it was left. */
export async function recordCheckFor({ ledger, states }: Stores): Promise<RecordCheck> {
  const device = await states.take('device');
  const check =
    made.get(ledger) ??
    new RecordCheck({
      ledger,
      digest: webDigest,
      breathe: () => new Promise((done) => setTimeout(done)),
      device: device.ok && typeof device.value === 'string' ? device.value : null,
    });
  made.set(ledger, check);
  return check;
}
