import type { Entry } from '../../src/charting/entry.ts';
import { withWaiting } from '../../src/charting/sums.ts';
import { clockText, isoOf } from '../../src/measure/moment.ts';
import type { DemoRun } from './demoRun.ts';

/** The entries of the demo and the totals of the shift, as plain text. */
export function demoReport({ entries, shift, wing }: DemoRun): string {
  return [
    `${entries.length} entries of the demo wing`,
    ...entries.map(rowOf),
    '',
    `The ${shift.name} shift that began on ${shift.date}, with what waits for review (mL)`,
    'balance: of what was measured; episodes: not measured; open: the amount is still open',
    row('bed', 'in', 'in, est.', 'out', 'out, est.', 'balance', 'episodes', 'open'),
    ...wing.rows.filter((one) => one.entries.length > 0).map(({ bed, sums }) => sumRow(bed, sums)),
    sumRow('all beds', wing.total),
  ].join('\n');
}

function rowOf({ bed, kind, amount, readAt, status, draft }: Entry): string {
  const when = readAt === null ? '' : `${isoOf(readAt).slice(0, 10)} ${clockText(readAt)}`;
  const much =
    amount === null
      ? `open: ${draft.candidates.join(' or ')} mL`
      : amount.method === 'unmeasured'
        ? `${amount.count}x not measured`
        : `${amount.mL} mL${amount.method === 'estimated' ? ' estimated' : ''}`;
  return `  ${when}  ${(bed ?? '').padEnd(7)} ${(kind ?? '').padEnd(14)} ${much.padEnd(20)} ${status}`;
}

const row = (...cells: readonly string[]): string =>
  `  ${cells.map((cell, place) => (place === 0 ? cell.padEnd(9) : cell.padStart(10))).join('')}`;

function sumRow(name: string, sums: DemoRun['wing']['total']): string {
  const [intake, output] = [withWaiting(sums.intake), withWaiting(sums.output)];
  const figures = [
    intake.measured,
    intake.estimated,
    output.measured,
    output.estimated,
    sums.balance.withWaiting.measured,
    intake.unmeasured + output.unmeasured,
    sums.open,
  ];
  return row(name, ...figures.map(String));
}
