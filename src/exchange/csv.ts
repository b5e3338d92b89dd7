import type { Entry } from '../charting/entry.ts';
import { fluidKinds } from '../measure/fluid.ts';
import { isoOf, type Moment } from '../measure/moment.ts';
import { charting } from '../words/en-US/charting.ts';
import { fluids } from '../words/en-US/fluids.ts';

type Column = keyof typeof charting.columns;

/**
 * Entries as comma-separated values with a header row, lines ended by CR LF, in UTF-8.
 *
 * A cell that a spreadsheet would take for a formula begins with an apostrophe.
 *
 * @see RFC 4180; OWASP, CSV Injection
 */
export function csvOf(entries: readonly Entry[]): string {
  const columns = Object.keys(charting.columns) as Column[];
  const head = columns.map((column) => charting.columns[column]);
  const rows = entries.map((entry) => {
    const cells = cellsOf(entry);
    return columns.map((column) => cells[column]);
  });
  return [head, ...rows].map((row) => `${row.map(cellText).join(',')}\r\n`).join('');
}

/** One cell: harmless to a spreadsheet, quoted where RFC 4180 asks for it. */
export function cellText(text: string): string {
  // Spreadsheets look behind spaces and controls, so what they would skip counts as a beginning too.
  const safe = /^[\s\p{Cc}\p{Cf}]*[=+\-@＝＋－＠]|^[\t\r\n]/u.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

function cellsOf(entry: Entry): Record<Column, string> {
  const { amount, kind, draft, history } = entry;
  const reasons = history.flatMap((event) => ('reason' in event ? [event.reason] : []));
  const original = draft.amount;
  return {
    entry: entry.id,
    bed: entry.bed ?? '',
    direction: kind === null ? '' : charting.directions[fluidKinds[kind]],
    kind: kind === null ? '' : fluids[kind],
    amount: amount === null || amount.method === 'unmeasured' ? '' : String(amount.mL),
    method: amount === null ? '' : charting.methods[amount.method],
    episodes: amount?.method === 'unmeasured' ? String(amount.count) : '',
    readAt: momentText(entry.readAt),
    reader: entry.reader ?? '',
    recordedAt: momentText(draft.at),
    lag: entry.lag === null ? '' : String(Math.max(0, Math.floor(entry.lag / 60_000))),
    status: charting.statuses[entry.state],
    confirmedBy: entry.confirmedBy?.initials ?? '',
    confirmedAt: momentText(entry.confirmedAt),
    reason: reasons.at(-1) ?? '',
    original: original === null || original.method === 'unmeasured' ? '' : String(original.mL),
    note: draft.note,
  };
}

function momentText(moment: Moment | null): string {
  return moment === null ? '' : isoOf(moment);
}
