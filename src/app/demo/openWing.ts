import type { TemporalApi } from '../../charting/temporal.ts';
import { hex } from '../../charting/uuid.ts';
import { plainCipher } from '../../storage/cipher.ts';
import { now } from '../clock.ts';
import { Desk } from '../Desk.svelte.ts';
import { speechFor } from '../speech.ts';
import { openStores, passingDatabase } from '../storage.ts';
import { deviceZone, loadTemporal } from '../temporal.ts';
import { clockIn } from './clockIn.ts';
import { demoUnit } from './demoUnit.ts';
import { demoZone } from './demoZone.ts';
import { fillWing } from './fillWing.ts';

/** The record of the demo wing, beside the unit's and never the same. */
export const demoDatabase = 'gloveside-demo';

/** A wing in which nothing happened for this long is filled anew, ms. */
const stale = 24 * 3_600_000;

const sha256 = async (bytes: Uint8Array<ArrayBuffer>): Promise<string> =>
  hex(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)));

/**
 * Open the demo wing: a desk like any other, over a database of its own.
 *
 * @throws {Error} `demo_unwritten` where the browser keeps nothing
 */
export async function openWing(): Promise<Desk> {
  const temporal = await loadTemporal();
  const kept = await deskOf(temporal);
  if (await isFresh(kept)) return kept;
  await kept.stores.database.close();
  await forgetWing();
  const desk = await deskOf(temporal);
  const { ms } = now();
  const own = deviceZone();
  const unit = demoUnit(demoZone(temporal, own, ms));
  await fillWing({ ledger: desk.stores.ledger, digest: sha256, temporal }, unit, ms);
  // Last, so that a wing which was left half filled is known by it.
  await desk.set(unit);
  await desk.open();
  return desk;
}

/** Begin anew: what was done in the demo wing goes, and the invented days are written again. */
export async function resetWing(desk: Desk): Promise<Desk> {
  desk.leave();
  await desk.stores.database.close();
  await forgetWing();
  return openWing();
}

async function deskOf(temporal: TemporalApi): Promise<Desk> {
  const wing = passingDatabase(demoDatabase);
  // The wing may lie in another zone than the device, and what is added to its days is read off its wall.
  const clock = clockIn(temporal, () => desk.unit.plan.zone);
  const stores = await openStores(demoDatabase, plainCipher, () => desk.rules(), null, wing, clock);
  const desk = new Desk(stores, speechFor);
  await desk.open();
  return desk;
}

async function isFresh({ stores }: Desk): Promise<boolean> {
  const settings = await stores.states.take('settings');
  if (!settings.ok || settings.value === undefined) return false;
  const { ms } = now();
  const span = { from: ms - stale, to: ms + 60_000 };
  const last = await stores.ledger.groups({ kind: 'entry', span, limit: 1 });
  return last.ok && last.value.length > 0;
}

function forgetWing(): Promise<void> {
  return new Promise((done) => {
    const request = indexedDB.deleteDatabase(demoDatabase);
    for (const end of ['success', 'error', 'blocked']) {
      request.addEventListener(end, () => {
        done();
      });
    }
  });
}
