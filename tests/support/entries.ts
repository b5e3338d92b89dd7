import type { Entry } from '../../src/charting/entry.ts';
import type { EntryDrafted, LedgerEvent } from '../../src/charting/events.ts';
import { foldEntry } from '../../src/charting/fold.ts';
import { strictRules } from '../../src/charting/reviewRules.ts';
import type { FluidKind } from '../../src/measure/fluid.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { aide, at, draftFact, nurse, Pen } from './ledgerStory.ts';

export const measured = (...fills: readonly number[]) =>
  ({
    method: 'measured',
    mL: millilitres(fills.reduce((sum, fill) => sum + fill, 0)),
    fills: fills.map(millilitres),
  }) as const;

export const estimated = (mL: number) => ({ ...measured(mL), method: 'estimated' }) as const;

export function folded(events: readonly LedgerEvent[]): Entry {
  const { entry } = foldEntry(events, strictRules);
  if (entry === null) throw new Error('these events make no entry');
  return entry;
}

/** An entry that was drafted a minute after its reading, and confirmed where asked. */
export async function entryAt(
  ms: number,
  kind: FluidKind,
  mL: number,
  { confirmed = true, ...over }: Partial<EntryDrafted> & { confirmed?: boolean } = {},
): Promise<Entry> {
  const pen = new Pen(ms + 60_000);
  const fact = draftFact({ readAt: at(ms), kind, amount: measured(mL), ...over });
  const draft = await pen.write(aide, fact);
  if (!confirmed) return folded([draft]);
  const { entry } = fact;
  return folded([draft, await pen.write(nurse, { type: 'entry.confirmed', entry, saw: draft.id })]);
}
