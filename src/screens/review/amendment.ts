import type { Amount } from '../../charting/amount.ts';
import { sameData } from '../../charting/canonicalJson.ts';
import type { Entry } from '../../charting/entry.ts';
import type { EntryChanges } from '../../charting/events.ts';
import type { WallTime } from '../../charting/wallClock.ts';
import type { FluidKind } from '../../measure/fluid.ts';
import { clockText, isoOf, type Moment } from '../../measure/moment.ts';
import { isMillilitres } from '../../measure/volume.ts';

/** The fields of the amendment slip, as they stand in its boxes. */
export interface AmendForm {
  method: Amount['method'] | '';
  /** mL; null while the box is empty. */
  mL: number | null;
  /** Episodes, where nothing was measured. */
  count: number | null;
  kind: FluidKind | '';
  /** `2026-11-24` */
  date: string;
  /** `0642` or `06:42`, 24 hours */
  time: string;
  /** Which of two, in the hour that happens twice. */
  second: boolean;
  bed: string;
  reader: string;
}

export type AmendFault = 'badAmount' | 'time_malformed' | 'time_skipped' | 'nothing';

export type Amendment =
  | { readonly ok: true; readonly changes: EntryChanges }
  | { readonly ok: false; readonly fault: AmendFault };

/** The boxes filled with what stands in the entry. */
export function formOf(entry: Entry): AmendForm {
  const { amount, readAt } = entry;
  const local = readAt === null ? '' : isoOf(readAt);
  return {
    method: amount?.method ?? 'measured',
    mL: amount === null || amount.method === 'unmeasured' ? null : amount.mL,
    count: amount?.method === 'unmeasured' ? amount.count : null,
    kind: entry.kind ?? '',
    date: local.slice(0, 10),
    time: readAt === null ? '' : clockText(readAt),
    second: false,
    bed: entry.bed ?? '',
    reader: entry.reader ?? '',
  };
}

/**
 * What the slip changes, each field with what stood there before.
 *
 * @param wall - what instant a typed date and time mean in the unit's zone
 */
export function amendmentOf(
  entry: Entry,
  form: AmendForm,
  wall: (date: string, time: string) => WallTime,
): Amendment {
  const before = formOf(entry);
  const amount = amountIn(entry, form);
  if (amount === 'badAmount') return { ok: false, fault: amount };
  const readAt = momentIn(entry, before, form, wall);
  if (typeof readAt === 'string') return { ok: false, fault: readAt };
  const reader = form.reader.trim().toUpperCase();
  const changes: EntryChanges = {
    ...(amount !== null && !sameData(amount, entry.amount)
      ? { amount: { was: entry.amount, is: amount } }
      : {}),
    ...(form.kind !== '' && form.kind !== entry.kind
      ? { kind: { was: entry.kind, is: form.kind } }
      : {}),
    ...(readAt !== null && !sameData(readAt, entry.readAt)
      ? { readAt: { was: entry.readAt, is: readAt } }
      : {}),
    ...(form.bed !== '' && form.bed !== entry.bed ? { bed: { was: entry.bed, is: form.bed } } : {}),
    ...(reader !== '' && reader !== entry.reader
      ? { reader: { was: entry.reader, is: reader } }
      : {}),
  };
  if (Object.keys(changes).length === 0) return { ok: false, fault: 'nothing' };
  return { ok: true, changes };
}

function amountIn(entry: Entry, form: AmendForm): Amount | null | 'badAmount' {
  if (form.method === 'unmeasured') {
    const count = form.count ?? 1;
    return Number.isInteger(count) && count > 0 ? { method: 'unmeasured', count } : 'badAmount';
  }
  if (form.method === '' || form.mL === null) return entry.amount === null ? null : 'badAmount';
  if (!isMillilitres(form.mL)) return 'badAmount';
  const { amount } = entry;
  const same = amount !== null && amount.method !== 'unmeasured' && amount.mL === form.mL;
  const fills = same ? amount.fills : [form.mL];
  return { method: form.method, mL: form.mL, fills };
}

function momentIn(
  entry: Entry,
  before: AmendForm,
  form: AmendForm,
  wall: (date: string, time: string) => WallTime,
): Moment | null | AmendFault {
  if (form.date === before.date && form.time === before.time && !form.second) return entry.readAt;
  const found = wall(form.date, clockOf(form.time));
  if (found.ok) return found.moment;
  if (found.fault === 'time_twice') return found.choices[form.second ? 1 : 0];
  return found.fault;
}

/** A time as it is typed, `642` or `06:42`, in the form of a clock: `06:42`. */
export function clockOf(typed: string): string {
  const digits = typed.replace(/[^0-9]/g, '').padStart(4, '0');
  return `${digits.slice(0, -2)}:${digits.slice(-2)}`;
}
