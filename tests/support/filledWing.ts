import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { LedgerEvent } from '../../src/charting/events.ts';
import type { FluidKind } from '../../src/measure/fluid.ts';
import { backupLines } from '../../src/storage/backup.ts';
import { runningSha256 } from '../../src/storage/sha256.ts';
import { measured } from './entries.ts';
import { aide, at, digest, draftFact, nurse, Pen } from './ledgerStory.ts';

const kinds: readonly FluidKind[] = ['urineCatheter', 'oralFluid', 'urineVoided', 'stoolLiquid'];
const minute = 60_000;

export interface FilledWing {
  /** Path of a backup that holds it. */
  readonly backup: string;
  readonly events: readonly LedgerEvent[];
  remove(): Promise<void>;
}

/**
 * A wing of many beds with four readings a bed at each of some times, as a backup file.
 *
 * @param times - ms since the Unix epoch; the readings lie in the hour after each
 */
export async function filledWing(beds: number, times: readonly number[]): Promise<FilledWing> {
  const events: LedgerEvent[] = [];
  const pen = new Pen(0);
  for (const from of [...times].sort((one, other) => one - other)) {
    for (let n = 0; n < beds * kinds.length; n += 1) {
      const readAt = from + Math.floor(n / beds) * 12 * minute + (n % beds) * 1_000;
      const kind = kinds[Math.floor(n / beds)] ?? 'urineCatheter';
      const amount = measured(100 + ((n * 25) % 900));
      const fact = draftFact({ bed: `Bed ${(n % beds) + 1}`, kind, amount, readAt: at(readAt) });
      pen.ms = Math.max(pen.ms, readAt);
      const draft = await pen.write(aide, fact);
      events.push(draft);
      if (n % 3 === 0) continue;
      const decided = { type: 'entry.confirmed', entry: fact.entry, saw: draft.id } as const;
      events.push(await pen.write(nurse, decided));
    }
  }
  const folder = await mkdtemp(join(tmpdir(), 'gloveside-wing-'));
  const backup = join(folder, 'wing.jsonl');
  const lines: string[] = [];
  const tools = { digest, newHash: runningSha256 };
  for await (const line of backupLines(events, '2026-03-02T12:00:00Z', tools)) lines.push(line);
  await writeFile(backup, lines.join(''));
  return { backup, events, remove: () => rm(folder, { recursive: true, force: true }) };
}
