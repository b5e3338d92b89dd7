import * as v from 'valibot';
import {
  ChainCheck,
  type ChainFault,
  type ChainFaultCode,
  type Digest,
} from '../charting/chain.ts';
import { canonicalJson } from '../charting/canonicalJson.ts';
import { ledgerVersion, type LedgerEvent } from '../charting/events.ts';
import { parseEvent } from '../charting/eventSchema.ts';
import { StorageFaultError } from './storageFault.ts';
import type { Ledger, Place, StorageFault } from './ledger.ts';
import type { RunningHash } from './sha256.ts';

/**
 * A backup is JSON lines: a head, the events chain by chain, and an end with the number of events, the
 * faults that the record's chains had when it was made, and the SHA-256 of all lines before.
 */
const formatName = 'gloveside ledger';

const headSchema = v.strictObject({
  format: v.literal(formatName),
  v: v.pipe(v.number(), v.integer(), v.minValue(1)),
  made: v.string(),
});

const endSchema = v.strictObject({
  end: v.literal(true),
  events: v.pipe(v.number(), v.integer(), v.minValue(0)),
  faults: v.array(v.string()),
  sha256: v.string(),
});

export type BackupFault =
  /** Not a line of a backup. */
  | 'backup_malformed'
  /** The file ends before its end line. */
  | 'backup_cut'
  /** Something stands behind the end line, or the count does not fit. */
  | 'backup_extra'
  | 'backup_checksum'
  | 'backup_newer'
  | 'backup_too_long'
  | 'event_malformed'
  | ChainFaultCode;

export interface BackupRefusal {
  readonly fault: BackupFault | StorageFault;
  /** From 1. */
  readonly line: number;
  /** Which field of the event, where that is known; else empty. */
  readonly field: string;
}

export type CheckedBackup =
  | {
      readonly ok: true;
      readonly events: number;
      /** Faults that the record had already when the backup was made. */
      readonly faults: readonly ChainFault[];
    }
  | ({ readonly ok: false } & BackupRefusal);

export interface BackupTools {
  readonly digest: Digest;
  readonly newHash: () => Promise<RunningHash>;
}

/** Longest backup that is read: ten years of a wing of 60 beds. */
export const longestBackup = 10_000_000;

/** All events of a ledger, chain by chain, a part at a time. @throws {StorageFaultError} */
export async function* eventsOf(ledger: Ledger, part = 1_000): AsyncGenerator<LedgerEvent> {
  let after: Place | null = null;
  do {
    const page = await ledger.read(after, part);
    if (!page.ok) throw new StorageFaultError(page.fault);
    yield* page.value.events;
    after = page.value.next;
  } while (after !== null);
}

/**
 * The lines of a backup, each with its line end.
 *
 * @param made - when, ISO 8601 with offset
 */
export async function* backupLines(
  events: Iterable<LedgerEvent> | AsyncIterable<LedgerEvent>,
  made: string,
  { digest, newHash }: BackupTools,
): AsyncGenerator<string> {
  const hash = await newHash();
  const check = new ChainCheck(digest);
  let count = 0;
  const head = `${canonicalJson({ format: formatName, v: ledgerVersion, made })}\n`;
  hash.add(head);
  yield head;
  for await (const event of events) {
    await check.add(event);
    count += 1;
    const line = `${canonicalJson(event)}\n`;
    hash.add(line);
    yield line;
  }
  const faults = check.faults.map(faultText);
  yield `${canonicalJson({ end: true, events: count, faults, sha256: hash.end() })}\n`;
}

/**
 * Read a backup to its end and say whether every line of it is sound.
 *
 * @param lines - without line ends
 * @param each - given every event in turn; a fault that it returns ends the reading
 */
export async function checkBackup(
  lines: AsyncIterable<string> | Iterable<string>,
  { digest, newHash }: BackupTools,
  each: (event: LedgerEvent) => Promise<StorageFault | null> = () => Promise.resolve(null),
): Promise<CheckedBackup> {
  const hash = await newHash();
  const check = new ChainCheck(digest);
  const faultLines: number[] = [];
  let end: v.InferOutput<typeof endSchema> | null = null;
  let events = 0;
  let line = 0;
  const refuse = (fault: BackupFault | StorageFault, field = ''): CheckedBackup => {
    return { ok: false, fault, line, field };
  };
  for await (const text of lines) {
    line += 1;
    if (line > longestBackup) return refuse('backup_too_long');
    if (end !== null) return refuse('backup_extra');
    const data = parsed(text);
    if (line === 1) {
      const version = v.safeParse(v.looseObject({ v: v.number() }), data);
      if (version.success && version.output.v > ledgerVersion) return refuse('backup_newer');
      if (!v.is(headSchema, data)) return refuse('backup_malformed');
    } else if (v.is(endSchema, data)) {
      end = data;
      continue;
    } else {
      const event = parseEvent(data);
      if (data === undefined) return refuse('backup_malformed');
      if (!event.ok) {
        return refuse(event.fault === 'version_newer' ? 'backup_newer' : event.fault, event.field);
      }
      const found = await check.add(event.event);
      faultLines.push(...found.map(() => line));
      const fault = await each(event.event);
      if (fault !== null) return refuse(fault);
      events += 1;
    }
    hash.add(`${text}\n`);
  }
  if (end === null) {
    line += 1;
    return refuse('backup_cut');
  }
  // What the record had before is known to it; anything else was done to the file.
  const declared = new Set(end.faults);
  const done = check.faults.findIndex((fault) => !declared.has(faultText(fault)));
  const fault = check.faults[done];
  if (fault !== undefined) {
    return { ok: false, fault: fault.code, line: faultLines[done] ?? line, field: '' };
  }
  if (end.events !== events) return refuse(end.events > events ? 'backup_cut' : 'backup_extra');
  if (end.sha256 !== hash.end()) return refuse('backup_checksum');
  return { ok: true, events, faults: check.faults };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

function faultText({ code, device, seq }: ChainFault): string {
  return `${code} ${device} ${seq}`;
}
