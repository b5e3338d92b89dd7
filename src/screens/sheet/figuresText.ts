import type { Balance } from '../../charting/sums.ts';
import { clockText } from '../../measure/moment.ts';
import { momentAt } from '../../charting/wallClock.ts';
import type { TemporalApi } from '../../charting/temporal.ts';
import { sheet } from '../../words/en-US/sheet.ts';

/** A figure for a column whose head bears the unit: `1,380`. */
export function figureText(mL: number): string {
  return String(Math.abs(mL)).replace(/\B(?=(\d{3})+$)/g, ',');
}

/** With its sign, and a true minus: `+45`, `−1,200`, `0`. */
export function signedText(mL: number): string {
  if (mL === 0) return '0';
  return `${mL < 0 ? '−' : '+'}${figureText(mL)}`;
}

export function balanceText(balance: Balance): string {
  return `${signedText(balance.measured)}${balance.whole ? '' : sheet.cells.partial}`;
}

export function shiftName(name: string): string {
  const known: Readonly<Record<string, string>> = sheet.shifts;
  return known[name] ?? name;
}

/** The wall clock of the unit at an instant, four digits. */
export function clockAt(temporal: TemporalApi, zone: string, ms: number): string {
  return clockText(momentAt(temporal, zone, ms));
}
