import type { ReviewRules } from '../charting/reviewRules.ts';
import { hex } from '../charting/uuid.ts';
import { BrowserLedger } from '../storage/browserLedger.ts';
import type { Cipher } from '../storage/cipher.ts';
import { Database } from '../storage/database.ts';
import type { Ledger } from '../storage/ledger.ts';
import { Recorder } from '../storage/recorder.ts';
import { SharedLedger } from '../storage/sharedLedger.ts';
import { Spare } from '../storage/spare/Spare.ts';
import { spareFactory } from '../storage/spare/spareFactory.ts';
import { StateStore } from '../storage/stateStore.ts';
import type { WriterLock } from '../storage/writerLock.ts';
import { deviceClock, type Clock } from './clock.ts';

const random = (bytes: number): Uint8Array => crypto.getRandomValues(new Uint8Array(bytes));

const sha256 = async (bytes: Uint8Array<ArrayBuffer>): Promise<string> =>
  hex(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)));

export interface Stores {
  readonly database: Database;
  readonly states: StateStore;
  readonly ledger: Ledger;
  readonly recorder: Recorder;
  readonly clock: Clock;
}

/** How several tabs share one record: one of them writes, all hear what grew. */
export interface Sharing {
  readonly lock: WriterLock;
  readonly channel: BroadcastChannel;
}

const newMark = () => crypto.randomUUID();
const browserFactory = (): IDBFactory | undefined =>
  'indexedDB' in globalThis ? globalThis.indexedDB : undefined;

const browser: Partial<Pick<Navigator, 'locks'>> = 'navigator' in globalThis ? navigator : {};
const spares = spareFactory(browser);

const alone = <T>(name: string, work: () => Promise<T>): Promise<T> =>
  browser.locks === undefined ? work() : browser.locks.request(name, work);

/**
 * A database of this device by its name, with a second copy where the browser has room of its own for
 * one. Undefined storage is found out when it is used.
 */
export function databaseNamed(name: string): Database {
  const spare = spares === null ? null : new Spare({ factory: spares, name, alone });
  return new Database(browserFactory(), name, newMark, 'strict', spare);
}

/** Everywhere that this device keeps databases. */
export async function allFactories(): Promise<IDBFactory[]> {
  return [browserFactory(), await spares?.()].filter((each) => each !== undefined && each !== null);
}

/** A database without a second copy, for what can be made again. */
export function passingDatabase(name: string): Database {
  return new Database(browserFactory(), name, newMark);
}

/**
 * The record of this device, its recorder and its small state, on one database.
 *
 * @param sharing - null for a record that one tab has for itself
 * @param database - another one than this device keeps under the name
 * @param clock - another one than hangs where the device is
 */
export async function openStores(
  name: string,
  cipher: Cipher,
  rules: () => ReviewRules,
  sharing: Sharing | null = null,
  database: Database = databaseNamed(name),
  clock: Clock = deviceClock,
): Promise<Stores> {
  const states = new StateStore(database, cipher, () => sharing?.lock.state !== 'follower');
  const own = new BrowserLedger(database, cipher, rules);
  const ledger = sharing === null ? own : new SharedLedger(own, sharing.lock, sharing.channel);
  const recorder = new Recorder({
    ledger,
    device: await deviceOf(states),
    digest: sha256,
    now: clock.now,
    random,
    after: (ms, run) => {
      const timer = setTimeout(run, ms);
      return () => {
        clearTimeout(timer);
      };
    },
  });
  return { database, states, ledger, recorder, clock };
}

/** This browser's own name in the chain of events; made once. A refused store gets a passing one. */
async function deviceOf(states: StateStore): Promise<string> {
  const known = await states.take('device');
  if (known.ok && typeof known.value === 'string') return known.value;
  const device = crypto.randomUUID();
  await states.put('device', device);
  return device;
}
