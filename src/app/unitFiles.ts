import type { Observation } from 'fhir/r4';
import type { Entry } from '../charting/entry.ts';
import { foldEntry } from '../charting/fold.ts';
import type { ReviewRules } from '../charting/reviewRules.ts';
import { sheetOf } from '../charting/sheet.ts';
import { dayOn, type ShiftPlan } from '../charting/shifts.ts';
import type { TemporalApi } from '../charting/temporal.ts';
import { momentAt } from '../charting/wallClock.ts';
import { bundleOf } from '../exchange/bundle.ts';
import { usualRoot } from '../exchange/codes.ts';
import { csvOf } from '../exchange/csv.ts';
import { totalsOf } from '../exchange/total.ts';
import { isoOf, type Moment } from '../measure/moment.ts';
import { backupLines, eventsOf, type BackupTools } from '../storage/backup.ts';
import { StorageFaultError } from '../storage/storageFault.ts';
import { fileLines } from '../storage/fileLines.ts';
import type { Ledger, StorageFault } from '../storage/ledger.ts';
import { restoreBackup } from '../storage/restore.ts';
import { charting } from '../words/en-US/charting.ts';
import { unit } from '../words/en-US/unit.ts';
import { errors } from '../words/errors.ts';
import type {
  Doing,
  FhirMode,
  FileOutcome,
  FileScope,
  HandedFile,
  RecordFiles,
  Restored,
} from './recordFiles.ts';

export interface UnitFilesPorts {
  readonly ledger: Ledger;
  readonly rules: () => ReviewRules;
  readonly plan: () => ShiftPlan;
  readonly temporal: TemporalApi;
  readonly now: () => Moment;
  readonly tools: BackupTools;
  /** Lets the page draw and hear the button that stops the work. */
  readonly breathe: () => Promise<void>;
  /** Events, entries or lines between two breaths. */
  readonly part?: number;
}

const { unexpected } = unit.files;

/** The record of a unit as files, made from its ledger and read back into it. */
export function unitFiles(ports: UnitFilesPorts): RecordFiles {
  return new UnitFiles(ports);
}

class UnitFiles implements RecordFiles {
  readonly #ports: UnitFilesPorts;

  readonly #part: number;

  constructor(ports: UnitFilesPorts) {
    this.#ports = ports;
    this.#part = ports.part ?? 500;
  }

  fhir(scope: FileScope, doing: Doing, mode: FhirMode): Promise<FileOutcome<HandedFile>> {
    return this.#made(doing, async () => {
      const entries = await this.#entries(scope, doing);
      const bundle = bundleOf(entries, this.#totals(scope, entries), { mode });
      const content = new Blob([`${JSON.stringify(bundle, null, 2)}\n`], {
        type: 'application/fhir+json',
      });
      return { name: unit.files.fhir(whatOf(scope), mode), content };
    });
  }

  csv(scope: FileScope, doing: Doing): Promise<FileOutcome<HandedFile>> {
    return this.#made(doing, async () => {
      const content = new Blob([csvOf(await this.#entries(scope, doing))], {
        type: 'text/csv;charset=utf-8',
      });
      return { name: unit.files.csv(whatOf(scope)), content };
    });
  }

  backup(doing: Doing): Promise<FileOutcome<HandedFile>> {
    return this.#made(doing, async () => {
      const { ledger, now, tools } = this.#ports;
      const made = isoOf(now());
      const all = await ledger.count();
      if (!all.ok) throw new Refused(faultWords(all.fault));
      // Blobs may live on the disk, so a long record is never whole in memory.
      const parts: Blob[] = [];
      let lines: string[] = [];
      let done = 0;
      const flush = async () => {
        parts.push(new Blob(lines));
        lines = [];
        // The head is no event.
        await this.#step(doing, Math.max(0, done - 1), all.value);
      };
      for await (const line of backupLines(eventsOf(ledger), made, tools)) {
        lines.push(line);
        done += 1;
        if (done % this.#part === 0) await flush();
      }
      parts.push(new Blob(lines));
      const when = made.slice(0, 16).replaceAll(':', '');
      return {
        name: unit.files.backup(when),
        content: new Blob(parts, { type: 'application/jsonl' }),
      };
    });
  }

  restore(file: Blob, doing: Doing): Promise<FileOutcome<Restored>> {
    return this.#made(doing, async () => {
      const { ledger, tools } = this.#ports;
      const before = await ledger.count();
      if (!before.ok) throw new Refused(faultWords(before.fault));
      let passes = 0;
      let all: number | null = null;
      const lines = () => {
        passes += 1;
        const known = all;
        return this.#told(file, doing, known, (count) => (all = count));
      };
      try {
        const restored = await restoreBackup(ledger, lines, tools, this.#part);
        if (restored.ok) return { added: restored.added, known: restored.known };
        if (restored.refused)
          throw new Refused(charting.backup.atLine(restored.line, errors[restored.fault].title));
        throw new Refused(unit.files.failedPartWay(restored.added, errors[restored.fault].title));
      } catch (error) {
        if (!(error instanceof Stopped) || passes < 2) throw error;
        // What was added is sound and stays, so it is told.
        const after = await ledger.count();
        const added = after.ok ? after.value - before.value : 0;
        if (added === 0) throw error;
        throw new Refused(unit.files.stoppedPartWay(added));
      }
    });
  }

  async *#told(
    file: Blob,
    doing: Doing,
    all: number | null,
    end: (lines: number) => void,
  ): AsyncGenerator<string> {
    let done = 0;
    for await (const line of fileLines(file)) {
      yield line;
      done += 1;
      if (done % this.#part === 0) await this.#step(doing, done, all);
    }
    end(done);
    await this.#step(doing, done, all);
  }

  async #entries({ span, bed }: FileScope, doing: Doing): Promise<Entry[]> {
    const { ledger, rules } = this.#ports;
    await this.#step(doing, 0, null);
    const found = await ledger.groups({
      kind: 'entry',
      span,
      ...(bed === null ? {} : { bed }),
    });
    if (!found.ok) throw new Refused(faultWords(found.fault));
    const entries: Entry[] = [];
    const all = found.value.reduce((sum, events) => sum + events.length, 0);
    let done = 0;
    for (const [index, events] of found.value.entries()) {
      const { entry } = foldEntry(events, rules());
      if (entry !== null) entries.push(entry);
      done += events.length;
      if (index % this.#part === 0) await this.#step(doing, done, all);
    }
    await this.#step(doing, done, all);
    return entries;
  }

  /** Totals are of a whole day; a shift has none that could be taken for it. */
  #totals({ span, bed, date }: FileScope, entries: readonly Entry[]): Observation[] {
    const { temporal, plan, now } = this.#ports;
    const day = dayOn(temporal, plan(), date);
    if (span.from !== day.from || span.to !== day.to) return [];
    const beds =
      bed === null
        ? [...new Set(entries.flatMap((entry) => (entry.bed ? [entry.bed] : [])))]
        : [bed];
    const { zone } = plan();
    const moments = {
      start: momentAt(temporal, zone, day.from),
      end: momentAt(temporal, zone, day.to),
      issued: now(),
    };
    return beds.flatMap((each) => {
      const own = entries.filter((entry) => entry.bed === each);
      return totalsOf(sheetOf(temporal, plan(), each, day, own), moments, usualRoot);
    });
  }

  /** Tell how far it is, let the page breathe, and end here where the person wants it. */
  async #step({ onprogress, signal }: Doing, done: number, all: number | null): Promise<void> {
    onprogress(done, all);
    await this.#ports.breathe();
    if (signal.aborted) throw new Stopped();
  }

  async #made<T>({ signal }: Doing, work: () => Promise<T>): Promise<FileOutcome<T>> {
    try {
      if (signal.aborted) throw new Stopped();
      return { outcome: 'done', value: await work() };
    } catch (error) {
      if (error instanceof Stopped) return { outcome: 'stopped' };
      if (error instanceof Refused) return { outcome: 'failed', why: error.message };
      if (!(error instanceof StorageFaultError)) return { outcome: 'failed', why: unexpected };
      return { outcome: 'failed', why: faultWords(error.fault) };
    }
  }
}

class Stopped extends Error {}

/** The message is a sentence to show. */
class Refused extends Error {}

/** The files are a nurse's or a trustee's work: nothing of a walk is at stake here. */
function faultWords(fault: StorageFault): string {
  return `${errors[fault].title}. ${unit.files.storeTodo}`;
}

/** `2026-11-24-bed-4`, for a file's name. */
function whatOf({ bed, date }: FileScope): string {
  const place = (bed ?? unit.files.wing).toLowerCase().replace(/[^a-z0-9]+/g, '-');
  return `${date}-${place.replace(/^-|-$/g, '')}`;
}
