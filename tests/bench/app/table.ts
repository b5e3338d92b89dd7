/** Columns of all the tables line up. */
const width = 46;

/** One measured thing. */
export interface Row {
  readonly what: string;
  readonly value: number;
  readonly unit: 'ms' | 'kB' | 'MB';
  /** What it is held against: a budget, or another row. */
  readonly against?: { readonly value: number; readonly name: string };
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)];
  if (middle === undefined) throw new Error('no_values: nothing was measured');
  return middle;
}

const figure = ({ value, unit }: Pick<Row, 'value' | 'unit'>): string =>
  `${value >= 100 ? value.toFixed(0) : value.toFixed(1)} ${unit}`;

/** The rows with their ratio to what they are held against. */
export function printTable(rows: readonly Row[]): void {
  const lines = rows.map((row) => {
    const { against } = row;
    const ratio = against === undefined ? '' : `${(row.value / against.value).toFixed(2)} of`;
    const name =
      against === undefined
        ? ''
        : `${figure({ value: against.value, unit: row.unit })}, ${against.name}`;
    return [row.what, figure(row), ratio, name] as const;
  });
  for (const [what, value, ratio, name] of lines) {
    console.log(`${what.padEnd(width)}  ${value.padStart(10)}  ${ratio.padStart(8)} ${name}`);
  }
}
