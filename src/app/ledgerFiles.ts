import type { Entry } from '../charting/entry.ts';
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
import { backupLines, eventsOf, type BackupFault, type BackupTools } from '../storage/backup.ts';
import { StorageFaultError } from '../storage/database.ts';
import { fileLines } from '../storage/fileLines.ts';
import type { Ledger, Result, StorageFault } from '../storage/ledger.ts';
import { entriesIn } from '../storage/reader.ts';
import { restoreBackup } from '../storage/restore.ts';
import { charting } from '../words/en-US/charting.ts';
import { sheet } from '../words/en-US/sheet.ts';
import type {
  Doing,
  FileOutcome,
  FileScope,
  HandedFile,
  RecordFiles,
  Restored,
} from './recordFiles.ts';

export interface FilePorts {
  readonly ledger: Ledger;
  readonly rules: () => ReviewRules;
  readonly plan: () => ShiftPlan;
  readonly temporal: Promise<TemporalApi>;
  readonly now: () => Moment;
  readonly tools: BackupTools;
}

/** Events that go into one piece of a backup, so that the whole is never in memory as text. */
const piece = 1_000;

class Stopped extends Error {
  override readonly name = 'Stopped';
}

/** Makes the files of a record, and brings a backup back into it. */
export class LedgerFiles implements RecordFiles {
  readonly #ports: FilePorts;

  constructor(ports: FilePorts) {
    this.#ports = ports;
  }

  fhir(scope: FileScope, doing: Doing): Promise<FileOutcome<HandedFile>> {
    return this.#withEntries(scope, doing, 'fhir.json', async (entries) => {
      const totals = await this.#totals(scope, entries);
      const text = JSON.stringify(bundleOf(entries, totals), null, 2);
      return new Blob([text], { type: 'application/fhir+json' });
    });
  }

  csv(scope: FileScope, doing: Doing): Promise<FileOutcome<HandedFile>> {
    return this.#withEntries(scope, doing, 'csv', (entries) =>
      Promise.resolve(new Blob([csvOf(entries)], { type: 'text/csv' })),
    );
  }

  backup(doing: Doing): Promise<FileOutcome<HandedFile>> {
    return stoppable(async () => {
      const { ledger, now, tools } = this.#ports;
      const made = isoOf(now());
      const count = await ledger.count();
      if (!count.ok) return failed(count.fault);
      const pieces: Blob[] = [];
      let lines: string[] = [];
      let done = 0;
      for await (const line of backupLines(eventsOf(ledger), made, tools)) {
        lines.push(line);
        if (lines.length < piece) continue;
        done += lines.length;
        pieces.push(new Blob(lines));
        lines = [];
        // A breath for the page, so that the stop button is heard.
        await breath();
        proceed(doing, Math.min(done, count.value), count.value);
      }
      pieces.push(new Blob(lines));
      const name = `gloveside-backup-${made.slice(0, 10)}.jsonl`;
      const content = new Blob(pieces, { type: 'application/jsonl' });
      return { outcome: 'done', value: { name, content } };
    });
  }

  async restore(file: Blob, doing: Doing): Promise<FileOutcome<Restored>> {
    // The file is read twice: to the end before anything is changed, then again while it is added.
    let pass = 0;
    let all: number | null = null;
    async function* lines(): AsyncGenerator<string> {
      pass += 1;
      let done = 0;
      for await (const line of fileLines(file)) {
        done += 1;
        if (done % piece === 1) {
          await breath();
          proceed(doing, done - 1, all);
        }
        yield line;
      }
      all = done;
    }
    const { ledger, tools } = this.#ports;
    const result = await stoppable(async (): Promise<FileOutcome<Restored>> => {
      const restored = await restoreBackup(ledger, lines, tools);
      if (restored.ok) return { outcome: 'done', value: restored };
      if (!restored.refused) return failed(restored.fault);
      const { fault, line } = restored;
      return isBackupFault(fault)
        ? { outcome: 'failed', why: charting.backup.atLine(line, charting.backup[fault]) }
        : failed(fault);
    });
    const begun = result.outcome === 'stopped' && pass > 1;
    return begun ? { outcome: 'failed', why: sheet.files.stoppedHalfway } : result;
  }

  async #withEntries(
    scope: FileScope,
    doing: Doing,
    ending: string,
    made: (entries: readonly Entry[]) => Promise<Blob>,
  ): Promise<FileOutcome<HandedFile>> {
    const entries = await this.#entriesOf(scope);
    if (!entries.ok) return failed(entries.fault);
    return stoppable(async () => {
      proceed(doing, entries.value.length, entries.value.length);
      const of = (scope.bed ?? 'wing').toLowerCase().replace(/[^a-z0-9]+/g, '-');
      const name = `gloveside-${of}-${scope.date}.${ending}`;
      return { outcome: 'done', value: { name, content: await made(entries.value) } };
    });
  }

  #entriesOf({ span, bed }: FileScope): Promise<Result<readonly Entry[]>> {
    const { ledger, rules } = this.#ports;
    return entriesIn(ledger, { span, ...(bed === null ? {} : { bed }) }, rules());
  }

  /** Totals are those of a bed and its whole day; a shift has none. */
  async #totals({ span, bed, date }: FileScope, entries: readonly Entry[]) {
    const { plan, now } = this.#ports;
    const temporal = await this.#ports.temporal;
    const day = dayOn(temporal, plan(), date);
    if (bed === null || span.from !== day.from || span.to !== day.to) return [];
    const own = sheetOf(temporal, plan(), bed, day, entries);
    const [start, end] = [day.from, day.to].map((ms) => momentAt(temporal, plan().zone, ms));
    if (start === undefined || end === undefined) return [];
    return totalsOf(own, { start, end, issued: now() }, usualRoot);
  }
}

function isBackupFault(fault: BackupFault | StorageFault): fault is BackupFault {
  return fault in charting.backup;
}

function failed(fault: BackupFault | StorageFault): { outcome: 'failed'; why: string } {
  if (isBackupFault(fault)) return { outcome: 'failed', why: charting.backup[fault] };
  const { title, todo } = charting.faults[fault];
  return { outcome: 'failed', why: `${title}. ${todo}` };
}

function proceed({ onprogress, signal }: Doing, done: number, all: number | null): void {
  if (signal.aborted) throw new Stopped();
  onprogress(done, all);
}

const breath = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

async function stoppable<T>(work: () => Promise<FileOutcome<T>>): Promise<FileOutcome<T>> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Stopped) return { outcome: 'stopped' };
    if (error instanceof StorageFaultError) return failed(error.fault);
    throw error;
  }
}
