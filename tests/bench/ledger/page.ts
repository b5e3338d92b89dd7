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

/** What one size of record cost. Times are ms; each is the median of several days or beds. */
export interface Costs {
  readonly entries: number;
  readonly events: number;
  /** Making and sealing the year; no cost of the app. */
  readonly made: number;
  readonly appended: number;
  /** Appending one event alone to the finished record, strict durability. */
  readonly appendOne: number;
  /** Folding all entries of a day from their events, without reading. */
  readonly fold: number;
  readonly queue: number;
  readonly sheet: number;
  readonly wing: number;
  /** One bed, two days. */
  readonly search: number;
  /** Entries that the queue, the sheet, the wing and the search found: work was done. */
  readonly found: readonly number[];
  /** Heap after appending and after reading, MB. */
  readonly heap: readonly [number, number];
}

const temporal = (globalThis as { Temporal?: TemporalApi }).Temporal ?? polyfill;
const plan = { zone: 'UTC', dayFrom: '07:00', shifts: eightHourShifts };
const rules = () => strictRules;

/** After a collection, which the browser is started to allow. */
function heapMb(): number {
  (globalThis as { gc?: () => void }).gc?.();
  const { memory } = performance as { memory?: { usedJSHeapSize: number } };
  return (memory?.usedJSHeapSize ?? 0) / 1e6;
}

async function median(runs: number, work: (run: number) => Promise<unknown>): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    await work(run);
    times.push(performance.now() - start);
  }
  return times.sort((one, other) => one - other)[Math.floor(runs / 2)] ?? 0;
}

function valueOf<T>(result: { ok: true; value: T } | { ok: false; fault: string }): T {
  if (!result.ok) throw new Error(result.fault);
  return result.value;
}

/** Make a record of this many entries in a database of its own, and open it in every way. */
export async function measure(entries: number, tell: (text: string) => void): Promise<Costs> {
  const name = `bench ${entries}`;
  const database = new Database(indexedDB, name, () => name);
  const ledger = new BrowserLedger(database, plainCipher, rules);
  const year = new Year(webDigest);
  const days = Math.ceil(entries / entriesADay);
  let [made, appended, events] = [0, 0, 0];
  for (let day = 0; day < days; day += 1) {
    const count = Math.min(entriesADay, entries - day * entriesADay);
    const start = performance.now();
    // The last day still waits, as on a ward in the morning: some two hundred entries.
    const list = await year.day(day, count, day < days - 1 ? 1 : 0.7);
    const between = performance.now();
    for (let from = 0; from < list.length; from += 500) {
      valueOf(await ledger.append(list.slice(from, from + 500)));
    }
    made += between - start;
    appended += performance.now() - between;
    events += list.length;
    if (day % 30 === 29) tell(`${day + 1} of ${days} days, ${events} events`);
  }
  const heapAfter = heapMb();

  // Whole days only: the first and the last are cut at their edges.
  const dayAt = (run: number) => 1 + ((run * 37) % Math.max(1, days - 2));
  const dateOf = (run: number) =>
    new Date(yearStart + dayAt(run) * dayMs).toISOString().slice(0, 10);
  const found = [0, 0, 0, 0];
  const queue = await median(15, async () => {
    const list = valueOf(await entriesIn(ledger, { waiting: true }, strictRules));
    found[0] = list.length;
  });
  const sheet = await median(31, async (run) => {
    const span = dayOn(temporal, plan, dateOf(run));
    const bed = beds[run % beds.length] ?? '';
    const list = valueOf(await entriesIn(ledger, { span, bed }, strictRules));
    found[1] = (found[1] ?? 0) + sheetOf(temporal, plan, bed, span, list).entries.length;
  });
  const wing = await median(15, async (run) => {
    const { from } = dayOn(temporal, plan, dateOf(run));
    const span = { from, to: from + 8 * 3_600_000 };
    const list = valueOf(await entriesIn(ledger, { span }, strictRules));
    found[2] = (found[2] ?? 0) + wingOf(beds, span, list).rows.length;
  });
  const search = await median(15, async (run) => {
    // Two days: the small record has no more than three whole ones.
    const from = yearStart + dayAt(run) * dayMs;
    const bed = beds[run % beds.length] ?? '';
    const list = await entriesIn(
      ledger,
      { span: { from, to: from + 2 * dayMs }, bed },
      strictRules,
    );
    found[3] = (found[3] ?? 0) + valueOf(list).length;
  });
  const first = dayOn(temporal, plan, dateOf(0));
  const groups = valueOf(await ledger.groups({ kind: 'entry', span: first }));
  const fold = await median(15, async () => {
    for (const group of groups) foldEntry(group, strictRules);
  });
  const extra = await year.day(days, 8, 1);
  const appendOne = await median(extra.length, async (run) => {
    valueOf(await ledger.append(extra.slice(run, run + 1)));
  });
  const heap: [number, number] = [heapAfter, heapMb()];
  await database.close();
  indexedDB.deleteDatabase(name);
  return {
    entries,
    events,
    made,
    appended,
    appendOne,
    fold,
    queue,
    sheet,
    wing,
    search,
    found,
    heap,
  };
}

Object.assign(globalThis, { measure });
