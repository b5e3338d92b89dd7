import type { Sheet } from '../../charting/sheet.ts';
import { withWaiting, type Standing } from '../../charting/sums.ts';

export interface Bar {
  readonly x: number;
  readonly y: number;
  readonly height: number;
  readonly side: 'intake' | 'output';
  readonly waiting: boolean;
}

export interface Tick {
  readonly y: number;
  readonly mL: number;
}

export interface ChartShape {
  readonly bars: readonly Bar[];
  readonly barWidth: number;
  /** The running balance: 0 at the day's edge, then the end of each hour up to the last reading. */
  readonly line: readonly { readonly x: number; readonly y: number }[];
  readonly zero: number;
  readonly ticks: readonly Tick[];
  /** Left edge and wall clock of each third hour. */
  readonly labels: readonly { readonly x: number; readonly text: string }[];
}

/** The drawing's box, in its own units. */
export const chartBox = {
  width: 760,
  height: 250,
  left: 52,
  right: 8,
  top: 10,
  bottom: 22,
} as const;

/** Distances between two marks that can be read without reckoning, mL. */
const steps = [50, 100, 200, 250, 500, 1000, 2000, 5000, 10_000];

/**
 * The geometry of a day: intake up, output down, the running balance across.
 *
 * Only measured amounts have a length; estimates and episodes stand in the table.
 */
export function chartOf({ hours }: Pick<Sheet, 'hours'>): ChartShape {
  const { width, height, left, right, top, bottom } = chartBox;
  const ups = hours.map(({ sums }) => withWaiting(sums.intake).measured);
  const downs = hours.map(({ sums }) => withWaiting(sums.output).measured);
  const runs = hours.map(({ running }) => running);
  const most = Math.max(100, ...ups, ...runs);
  const least = Math.min(-100, ...downs.map((mL) => -mL), ...runs);
  const step = steps.find((size) => (most - least) / size <= 7) ?? 20_000;
  const highest = Math.ceil(most / step) * step;
  const lowest = Math.floor(least / step) * step;
  const yOf = (mL: number): number =>
    top + ((highest - mL) / (highest - lowest)) * (height - top - bottom);
  const slot = (width - left - right) / Math.max(1, hours.length);
  const barWidth = slot * 0.36;

  const bars = hours.flatMap(({ sums }, place) => {
    const x = left + place * slot + slot * 0.12;
    return [
      ...barsOf(sums.intake, 'intake', x, yOf),
      ...barsOf(sums.output, 'output', x + slot * 0.4, yOf),
    ];
  });
  const last = hours.findLastIndex(({ entries }) => entries.length > 0);
  const ends = runs
    .slice(0, last + 1)
    .map((running, place) => ({ x: left + (place + 1) * slot, y: yOf(running) }));
  const line = ends.length === 0 ? [] : [{ x: left, y: yOf(0) }, ...ends];
  const marks = Math.round((highest - lowest) / step);
  const ticks = Array.from({ length: marks + 1 }, (_, mark) => {
    const mL = highest - mark * step;
    return { mL, y: yOf(mL) };
  });
  const labels = hours.flatMap(({ span }, place) =>
    place % 3 === 0 ? [{ x: left + place * slot, text: span.label }] : [],
  );
  return { bars, barWidth, line, zero: yOf(0), ticks, labels };
}

function barsOf(
  { confirmed, waiting }: Standing,
  side: 'intake' | 'output',
  x: number,
  yOf: (mL: number) => number,
): Bar[] {
  const sign = side === 'intake' ? 1 : -1;
  const between = (from: number, to: number, isWaiting: boolean): Bar[] => {
    if (from === to) return [];
    const [one, other] = [yOf(sign * from), yOf(sign * to)];
    const y = Math.min(one, other);
    return [{ x, y, height: Math.abs(one - other), side, waiting: isWaiting }];
  };
  const whole = confirmed.measured + waiting.measured;
  return [...between(0, confirmed.measured, false), ...between(confirmed.measured, whole, true)];
}
