import type { Entry } from '../charting/entry.ts';
import type { Sheet } from '../charting/sheet.ts';
import { withWaiting } from '../charting/sums.ts';
import { definitionsMet, type Definition } from '../measure/definitions.ts';
import type { FluidKind } from '../measure/fluid.ts';
import { hour, perHour, perKgHour } from '../measure/rates.ts';
import { millilitres, type Millilitres } from '../measure/volume.ts';
import { grams, type Grams } from '../measure/weight.ts';

/** What was measured over a time, with the published definitions that these figures meet. */
export interface UrineFigures {
  readonly mL: Millilitres;
  /** To one decimal. */
  readonly hours: number;
  /** mL/h */
  readonly rate: number;
  /** mL/kg/h and the weight it rests on, g; null without a weight on file. */
  readonly perKg: { readonly rate: number; readonly weight: Grams } | null;
  readonly met: readonly Definition[];
}

const urine: readonly FluidKind[] = ['urineCatheter', 'urineVoided', 'urinePad'];

/**
 * The figures that the checks put beside an entry when it was read: since the emptying before.
 *
 * Null where there was none before, where it is no urine, and where the amount was changed since.
 */
export function figuresOfEntry({ kind, amount, draft }: Entry): UrineFigures | null {
  if (kind === null || !urine.includes(kind) || amount?.method !== 'measured') return null;
  const figures = draft.evidence?.findings.map(({ numbers = {} }) => numbers) ?? [];
  const since = figures.find((of) => of.mL === amount.mL && (of.hours ?? 0) > 0);
  if (since === undefined) return null;
  const kg = figures.find((of) => (of.kg ?? 0) > 0)?.kg;
  // Hours were rounded down, so that a limit is never met by rounding.
  const ms = Math.round((since.hours ?? 0) * hour);
  return figuresOf(amount.mL, ms, kg === undefined ? null : grams(Math.round(kg * 1000)));
}

/**
 * The urine of a day that is over, by what was measured.
 *
 * Null where the day is not over or not of 24 h, where nothing was measured, and where the measured
 * sum is not all there was: an estimate, an unmeasured episode or an open number beside it.
 *
 * @param now - ms since the Unix epoch
 */
export function figuresOfDay(sheet: Sheet, weight: Grams | null, now: number): UrineFigures | null {
  const { day, total } = sheet;
  const ms = day.to - day.from;
  if (now < day.to || ms !== 24 * hour || total.open > 0) return null;
  const sums = urine.flatMap((kind) => total.byKind[kind] ?? []).map(withWaiting);
  const count = (of: 'measured' | 'estimated' | 'unmeasured' | 'entries') =>
    sums.reduce((sum, figures) => sum + figures[of], 0);
  if (count('entries') === 0 || count('estimated') + count('unmeasured') > 0) return null;
  return figuresOf(millilitres(count('measured')), ms, weight);
}

function figuresOf(mL: Millilitres, ms: number, weight: Grams | null): UrineFigures {
  return {
    mL,
    hours: Math.round((10 * ms) / hour) / 10,
    rate: perHour(mL, ms),
    perKg: weight === null ? null : { rate: perKgHour(mL, weight, ms), weight },
    met: definitionsMet({ mL, ms, weight }),
  };
}
