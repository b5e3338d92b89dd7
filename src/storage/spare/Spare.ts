import { InTurn } from '../inTurn.ts';
import { finished, openDatabase, storeNames } from '../openDatabase.ts';
import { copyRows, setTurn } from './copyRows.ts';
import { changesTo, replay } from './rowChanges.ts';
import { putTurns, rowsAfter, standingOf, turnsOf, type Standing, type Written } from './turns.ts';

export interface SparePorts {
  /** Another IndexedDB of this browser, with files of its own; null where it has none. */
  readonly factory: () => Promise<Pick<IDBFactory, 'open'> | null>;
  readonly name: string;
  /** Run something that no other tab may do at the same time. */
  readonly alone: <T>(name: string, work: () => Promise<T>) => Promise<T>;
}

/** A record never waits longer than this for its spare, ms. */
const patience = 2_000;
/** Of a spare that was never whole; a whole one has the mark of its record. */
const noMark = '';
/** How long a start may wait for a copy to be made, ms. */
const headStart = 500;

/**
 * A second copy of the record, in files of its own.
 *
 * A browser that is killed in the wrong thousandth of a second can leave its own files so that it
 * throws all of them away, two starts later. Whatever was agreed to is then brought back from here. A
 * write is in the record first and here right after it, never both at the same moment, so that one
 * kill can not hurt both. What goes wrong here is never a fault of the record: it is set right at the
 * next start.
 */
export class Spare {
  readonly #ports: SparePorts;
  #db: IDBDatabase | null = null;
  #opening: Promise<IDBDatabase | null> | null = null;
  /** True once the spare has all that the record has. */
  #inStep = false;
  /** The last write brought over while a copy is on its way, and whether one before it was not. */
  #reached = 0;
  #missed = false;
  readonly #turns = new InTurn();

  constructor(ports: SparePorts) {
    this.#ports = ports;
  }

  /** Bring back what the record lost, before anybody reads it; and what the spare missed, behind it. */
  async meet(record: IDBDatabase): Promise<void> {
    try {
      const spare = await inTime(this.#open());
      if (spare === null) return;
      if (!(await this.#compare(record, spare))) return;
      const copied = this.#copyOver(record, spare).catch(() => undefined);
      // A small record is copied before anything is written; a large one while it is.
      await inTime(copied, headStart).catch(() => undefined);
    } catch {
      this.close();
    }
  }

  /** Bring one write of the record over. Done when the spare has it, or can not have it. */
  async follow({ turn, changes }: Written): Promise<void> {
    const spare = this.#db;
    if (spare === null) return;
    const brought = this.#turns.run(async () => {
      this.#missed ||= turn > this.#reached + 1;
      this.#reached = Math.max(this.#reached, turn);
      await write(spare, async (transaction) => {
        const state = transaction.objectStore('state');
        const before = (await turnsOf(state))?.turn;
        if (this.#inStep && before !== undefined && before >= turn) return;
        // Behind by more than this: the next start copies the whole.
        if (this.#inStep && before !== turn - 1) throw new Error('spare_behind');
        replay(transaction, changes);
        if (this.#inStep) putTurns(state, { turn, recent: [] });
      });
    });
    try {
      await inTime(brought);
    } catch {
      this.close();
    }
  }

  /** Done when all that was handed over is brought over, or can not be. */
  async settled(): Promise<void> {
    await inTime(this.#turns.settled()).catch(() => undefined);
  }

  close(): void {
    this.#db?.close();
    this.#db = null;
    this.#opening = null;
    this.#inStep = false;
  }

  #open(): Promise<IDBDatabase | null> {
    return (this.#opening ??= this.#ports.factory().then(async (factory) => {
      if (factory === null) return null;
      const db = await openDatabase(factory, this.#ports.name, () => noMark);
      const drop = () => {
        if (this.#db === db) this.close();
      };
      db.onversionchange = drop;
      db.onclose = drop;
      return (this.#db = db);
    }));
  }

  /** @returns true where the spare is to be made anew */
  #compare(record: IDBDatabase, spare: IDBDatabase): Promise<boolean> {
    return this.#ports.alone(`${this.#ports.name} spare`, async () => {
      const [own, other] = await Promise.all([standingOf(record), standingOf(spare)]);
      if (isLost(own, other)) {
        // What came in while the spare could not be read stays.
        await copyRows(spare, record, { keepOthers: true });
        const reached = other.turns?.turn;
        if (!isAnew(own) || reached === undefined) {
          // The spare lacks what stayed, or was half: a copy brings it into step.
          await setTurn(record, Math.max(own.turns?.turn ?? 0, reached ?? 0) + 1);
          return true;
        }
        await setTurn(record, reached);
      } else if (own.turns === undefined) {
        await setTurn(record, 0);
        return true;
      } else if (!(await caughtUp(record, spare, own, other))) return true;
      this.#inStep = true;
      return false;
    });
  }

  async #copyOver(record: IDBDatabase, spare: IDBDatabase): Promise<void> {
    await this.#ports.alone(`${this.#ports.name} copy`, async () => {
      // Another tab may have made it while this one waited.
      if (!(await this.#compare(record, spare))) return;
      this.#reached = (await standingOf(record)).turns?.turn ?? 0;
      this.#missed = false;
      await copyRows(record, spare, { inTurn: (work) => this.#turns.run(work) });
      await this.#turns.run(async () => {
        // Another tab wrote as well, and may not have reached what was copied: the next start sees to it.
        if (this.#missed) return;
        await setTurn(spare, this.#reached);
        this.#inStep = true;
      });
    });
  }
}

/** The record was made anew, or stands before what the spare has. */
function isLost(own: Standing, other: Standing): boolean {
  // Half a spare, which has no mark yet, is better than nothing.
  if (other.mark === noMark) return isAnew(own) && !other.isEmpty;
  return isAnew(own) || own.mark !== other.mark || turnOf(own) < turnOf(other);
}

/** Made by this start, or by one that ended while it was filled. */
const isAnew = (own: Standing): boolean => own.turns === undefined && (own.isEmpty || own.isHalf);

const turnOf = ({ turns }: Standing): number => turns?.turn ?? 0;

/** Bring over the last writes that the spare missed. False where they are more than are named. */
async function caughtUp(
  record: IDBDatabase,
  spare: IDBDatabase,
  { turns }: Standing,
  other: Standing,
): Promise<boolean> {
  if (turns === undefined || other.turns === undefined) return false;
  const rows = rowsAfter(turns, other.turns.turn);
  if (rows === null) return false;
  if (rows.length === 0) return true;
  const changes = await changesTo(record.transaction([...storeNames]), rows);
  await write(spare, (transaction) => {
    replay(transaction, changes);
    putTurns(transaction.objectStore('state'), { turn: turns.turn, recent: [] });
    return Promise.resolve();
  });
  return true;
}

async function write(
  db: IDBDatabase,
  run: (transaction: IDBTransaction) => Promise<void>,
): Promise<void> {
  const transaction = db.transaction([...storeNames], 'readwrite', { durability: 'strict' });
  const done = finished(transaction);
  try {
    await run(transaction);
  } catch (error) {
    done.catch(() => undefined);
    transaction.abort();
    throw error;
  }
  await done;
}

function inTime<T>(work: Promise<T>, limit = patience): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      reject(new Error('spare_late'));
    }, limit);
  });
  return Promise.race([work, late]).finally(() => {
    clearTimeout(timer);
  });
}
