import { Temporal as polyfill } from 'temporal-polyfill';
import { foldEntry } from '../../../src/charting/fold.ts';
import { strictRules } from '../../../src/charting/reviewRules.ts';
import { sheetOf, wingOf } from '../../../src/charting/sheet.ts';
import { dayOn, eightHourShifts } from '../../../src/charting/shifts.ts';
import type { TemporalApi } from '../../../src/charting/temporal.ts';
import { BrowserLedger } from '../../../src/storage/browserLedger.ts';
import { plainCipher } from '../../../src/storage/cipher.ts';
import { Database } from '../../../src/storage/database.ts';
import { entriesIn } from '../../../src/storage/reader.ts';
import { webDigest } from '../../../src/storage/sha256.ts';
import { beds, dayMs, entriesADay, Year, yearStart } from './year.ts';

/** What making a record of one size cost, ms. */
export interface Growth {
  readonly entries: number;
  readonly events: number;
  /** Making and sealing the year; no cost of the app. */
  readonly made: number;
  /** Bringing in what came before the last days: a day at once, not durable. */
  readonly seeded: number;
  /** Appending the last days as the app does, strictly durable. */
  readonly appended: number;
  /** Events of those last days. */
  readonly measured: number;
}

/** What opening it cost, ms, each the median of several days or beds. */
export interface Opening {
  readonly queue: number;
  readonly sheet: number;
  readonly wing: number;
  /** One bed, two days. */
  readonly search: number;
  /** Folding all entries of a day from their events, without reading. */
  readonly fold: number;
  /** Appending one event alone, strict durability. */
  readonly appendOne: number;
  /** Entries or rows that were found, so that it shows that work was done. */
  readonly found: readonly number[];
}

const temporal = (globalThis as { Temporal?: TemporalApi }).Temporal ?? polyfill;
const plan = { zone: 'UTC', dayFrom: '07:00', shifts: eightHourShifts };
const rules = () => strictRules;

function recordOf(
  entries: number,
  durability: IDBTransactionDurability = 'strict',
): { ledger: BrowserLedger; close: () => Promise<void> } {
  const name = `bench ${entries}`;
  const database = new Database(indexedDB, name, () => name, durability);
  return {
    ledger: new BrowserLedger(database, plainCipher, rules),
    close: () => database.close(),
  };
}

function valueOf<T>(result: { ok: true; value: T } | { ok: false; fault: string }): T {
  if (!result.ok) throw new Error(result.fault);
  return result.value;
}

/** Days at the end of a record whose appending is measured. */
const measuredDays = 3;

/**
 * Make a record of this many entries in a database of its own.
 *
 * What the app appends on a ward is a few events at a time, and a year of that is a year of waiting
 * for the disk. So all but the last days are brought in a day at a time without waiting for it, and
 * appending is measured on the last days only, into a record that has its full size by then.
 */
async function grow(entries: number, tell: (text: string) => void): Promise<Growth> {
  const seed = recordOf(entries, 'relaxed');
  const real = recordOf(entries);
  const year = new Year(webDigest, 20_250_101);
  const days = Math.ceil(entries / entriesADay);
  let [made, seeded, appended, measured, events] = [0, 0, 0, 0, 0];
  for (let day = 0; day < days; day += 1) {
    const count = Math.min(entriesADay, entries - day * entriesADay);
    const start = performance.now();
    // The last day still waits, as on a ward in the morning: some two hundred entries.
    const list = await year.day(day, count, day < days - 1 ? 1 : 0.7);
    const between = performance.now();
    made += between - start;
    events += list.length;
    if (day < days - measuredDays) {
      valueOf(await seed.ledger.append(list));
      seeded += performance.now() - between;
    } else {
      for (let from = 0; from < list.length; from += 500) {
        valueOf(await real.ledger.append(list.slice(from, from + 500)));
      }
      appended += performance.now() - between;
      measured += list.length;
    }
    if (day % 30 === 29) tell(`${day + 1} of ${days} days, ${events} events`);
  }
  await seed.close();
  await real.close();
  return { entries, events, made, seeded, appended, measured };
}

type Work = (ledger: BrowserLedger, run: number, days: number) => Promise<number>;

const dayAt = (run: number, days: number): number => 1 + ((run * 37) % Math.max(1, days - 2));
const bedAt = (run: number): string => beds[run % beds.length] ?? '';

function spanAt(run: number, days: number) {
  const start = new Date(yearStart + dayAt(run, days) * dayMs);
  return dayOn(temporal, plan, start.toISOString().slice(0, 10));
}

const works: Readonly<Record<'queue' | 'sheet' | 'wing' | 'search', Work>> = {
  queue: async (ledger) => valueOf(await entriesIn(ledger, { waiting: true }, strictRules)).length,
  sheet: async (ledger, run, days) => {
    const span = spanAt(run, days);
    const bed = bedAt(run);
    const list = valueOf(await entriesIn(ledger, { span, bed }, strictRules));
    return sheetOf(temporal, plan, bed, span, list).entries.length;
  },
  wing: async (ledger, run, days) => {
    const { from } = spanAt(run, days);
    const span = { from, to: from + 8 * 3_600_000 };
    const list = valueOf(await entriesIn(ledger, { span }, strictRules));
    return wingOf(beds, span, list).rows.reduce((sum, { entries }) => sum + entries.length, 0);
  },
  search: async (ledger, run, days) => {
    const { from } = spanAt(run, days);
    const query = { span: { from, to: from + 2 * dayMs }, bed: bedAt(run) };
    return valueOf(await entriesIn(ledger, query, strictRules)).length;
  },
};

function median(times: readonly number[]): number {
  return [...times].sort((one, other) => one - other)[Math.floor(times.length / 2)] ?? 0;
}

/**
 * Open records of several sizes in every way, in turns, so that whatever else the machine does falls
 * on all of them alike.
 */
async function openAll(sizes: readonly number[], runs: number): Promise<Opening[]> {
  const records = sizes.map((entries) => {
    const times: Record<keyof typeof works | 'fold' | 'appendOne', number[]> = {
      queue: [],
      sheet: [],
      wing: [],
      search: [],
      fold: [],
      appendOne: [],
    };
    const days = Math.ceil(entries / entriesADay);
    const year = new Year(webDigest, 7 + entries);
    return { ...recordOf(entries), days, times, year, found: [0, 0, 0, 0] };
  });
  for (let run = 0; run < runs; run += 1) {
    for (const { ledger, days, times, found, year } of records) {
      const timed = async (name: keyof typeof times, work: () => Promise<number>) => {
        const start = performance.now();
        const result = await work();
        times[name].push(performance.now() - start);
        return result;
      };
      for (const [place, name] of (['queue', 'sheet', 'wing', 'search'] as const).entries()) {
        const got = await timed(name, () => works[name](ledger, run, days));
        found[place] = (found[place] ?? 0) + got;
      }
      const groups = valueOf(await ledger.groups({ kind: 'entry', span: spanAt(run, days) }));
      await timed('fold', () => {
        for (const group of groups) foldEntry(group, strictRules);
        return Promise.resolve(0);
      });
      const [event] = await year.day(days, 1, 1);
      await timed('appendOne', async () =>
        event === undefined ? 0 : valueOf(await ledger.append([event])).added,
      );
    }
  }
  for (const { close } of records) await close();
  return records.map(({ times, found }) => ({
    queue: median(times.queue),
    sheet: median(times.sheet),
    wing: median(times.wing),
    search: median(times.search),
    fold: median(times.fold),
    appendOne: median(times.appendOne),
    found,
  }));
}

/** Heap in use, MB, after a collection, which the browser is started to allow. */
function heapMb(): number {
  const { gc, performance: timing } = globalThis as {
    gc?: () => void;
    performance: { memory?: { usedJSHeapSize: number } };
  };
  gc?.();
  return (timing.memory?.usedJSHeapSize ?? 0) / 1e6;
}

/** What the benchmark calls in the page. */
export interface BenchPage {
  readonly grow: typeof grow;
  readonly openAll: typeof openAll;
  readonly heapMb: typeof heapMb;
}

Object.assign(globalThis, { bench: { grow, openAll, heapMb } satisfies BenchPage });
