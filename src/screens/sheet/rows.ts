import type { Sheet, SheetHour, SheetShift } from '../../charting/sheet.ts';

export type SheetRow =
  | { readonly kind: 'hour'; readonly hour: SheetHour }
  | { readonly kind: 'shift'; readonly shift: SheetShift };

/** The hours of a day with each shift's sums behind its last hour. */
export function rowsOf({ hours, shifts }: Pick<Sheet, 'hours' | 'shifts'>): readonly SheetRow[] {
  const rows: SheetRow[] = [];
  for (const hour of hours) {
    rows.push({ kind: 'hour', hour });
    for (const shift of shifts) {
      // An edge inside an hour ends with that hour: its sum is by the minute all the same.
      const ends = shift.span.to > hour.span.from && shift.span.to <= hour.span.to;
      if (ends) rows.push({ kind: 'shift', shift });
    }
  }
  return rows;
}
