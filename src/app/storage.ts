import type { ReviewRules } from '../charting/reviewRules.ts';
import { hex } from '../charting/uuid.ts';
import { BrowserLedger } from '../storage/browserLedger.ts';
import type { Cipher } from '../storage/cipher.ts';
import { Database } from '../storage/database.ts';
import { Recorder } from '../storage/recorder.ts';
import { StateStore } from '../storage/stateStore.ts';
import { now } from './clock.ts';

const random = (bytes: number): Uint8Array => crypto.getRandomValues(new Uint8Array(bytes));

const sha256 = async (bytes: Uint8Array<ArrayBuffer>): Promise<string> =>
  hex(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)));

export interface Stores {
  readonly database: Database;
  readonly states: StateStore;
  readonly ledger: BrowserLedger;
  readonly recorder: Recorder;
}

/** The record of this device, its recorder and its small state, on one database. */
export async function openStores(
  name: string,
  cipher: Cipher,
  rules: () => ReviewRules,
): Promise<Stores> {
  const factory = 'indexedDB' in globalThis ? globalThis.indexedDB : undefined;
  const database = new Database(factory, name, () => crypto.randomUUID());
  const states = new StateStore(database, cipher);
  const ledger = new BrowserLedger(database, cipher, rules);
  const recorder = new Recorder({
    ledger,
    device: await deviceOf(states),
    digest: sha256,
    now,
    random,
    after: (ms, run) => {
      const timer = setTimeout(run, ms);
      return () => {
        clearTimeout(timer);
      };
    },
  });
  return { database, states, ledger, recorder };
}

/** This browser's own name in the chain of events; made once. A refused store gets a passing one. */
async function deviceOf(states: StateStore): Promise<string> {
  const known = await states.take('device');
  if (known.ok && typeof known.value === 'string') return known.value;
  const device = crypto.randomUUID();
  await states.put('device', device);
  return device;
}
