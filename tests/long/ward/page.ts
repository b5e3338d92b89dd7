import './timers.ts';
import { openStores } from '../../../src/app/storage.ts';
import { eventsOf } from '../../../src/storage/backup.ts';
import { plainCipher } from '../../../src/storage/cipher.ts';
import { Random } from '../../bench/numbers/random.ts';
import { disk } from './disk.ts';
import { hurry, pause, pendingTimers } from './timers.ts';
import { Walker, type Audit, type Counts } from './Walker.ts';

/** What became of a number of walks. */
export interface Soaked extends Audit {
  readonly walks: number;
  readonly counts: Counts;
  readonly refusals: number;
  /** Promises that did not hold. */
  readonly broken: readonly string[];
  /** Heap after each tenth of the walks, MB. */
  readonly heaps: readonly number[];
  readonly timersLeft: number;
}

const rules = () => ({ ownReview: [] });

/** The least of several looks, each after a collection: what is held, not what waits to be collected. */
async function heapMb(): Promise<number> {
  const { gc, performance } = globalThis as unknown as {
    gc?: () => void;
    performance: { memory: { usedJSHeapSize: number } };
  };
  if (gc === undefined) throw new Error('no_gc: open the browser with --js-flags=--expose-gc');
  let least = Infinity;
  for (let look = 0; look < 4; look++) {
    await pause(25);
    gc();
    least = Math.min(least, performance.memory.usedJSHeapSize / 1e6);
  }
  return least;
}

async function soak(seed: number, walks: number, tell: (done: number) => void): Promise<Soaked> {
  disk.relax();
  hurry();
  const walker = new Walker(new Random(seed), `soak ${seed}`);
  await walker.open();
  const heaps: number[] = [];
  for (let done = 1; done <= walks; done++) {
    await walker.walk();
    if (done % Math.ceil(walks / 10) === 0) {
      heaps.push(await heapMb());
      tell(done);
    }
  }
  const audit = await walker.audit();
  await walker.stores.database.close();
  await pause(200);
  const { counts, broken } = walker;
  const { refusals } = disk;
  return { ...audit, walks, counts, refusals, broken, heaps, timersLeft: pendingTimers() };
}

/** Write without end, one event after the other, and tell each id once the record has it. */
async function writeOn(place: string, tell: (id: string) => void): Promise<void> {
  const { recorder } = await openStores(place, plainCipher, rules);
  for (let count = 1; ; count++) {
    const recorded = await recorder.record({ initials: 'MK', role: 'aide' }, [
      { type: 'walk.started', walk: recorder.newId(), procedure: 'urinal', bed: `Bed ${count}` },
    ]);
    if (recorded.kept === 'stored') for (const { id } of recorded.events) tell(id);
  }
}

/** The ids of all events that the record has. */
async function idsIn(place: string): Promise<string[]> {
  const { ledger, database } = await openStores(place, plainCipher, rules);
  const ids: string[] = [];
  for await (const { id } of eventsOf(ledger)) ids.push(id);
  await database.close();
  return ids;
}

const ward = { soak, writeOn, idsIn };
export type Ward = typeof ward;

Object.assign(globalThis, { ward });
