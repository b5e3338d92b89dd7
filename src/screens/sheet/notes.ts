import type { Entry } from '../../charting/entry.ts';
import type { Sums } from '../../charting/sums.ts';
import { sheet } from '../../words/en-US/sheet.ts';

/**
 * The notes that these sums need: each mark that was used is explained, none that was not.
 *
 * @param waiting - how this page shows what is not confirmed yet
 */
export function notesOf(
  all: readonly Sums[],
  entries: readonly Entry[],
  waiting: string = sheet.notes.waiting,
): readonly string[] {
  const { notes } = sheet;
  const sides = all.flatMap(({ intake, output }) => [
    intake.confirmed,
    intake.waiting,
    output.confirmed,
    output.waiting,
  ]);
  const waits = all.some(
    ({ intake, output }) => intake.waiting.entries + output.waiting.entries > 0,
  );
  const open = all.reduce((count, sums) => count + sums.open, 0);
  const struck = entries.filter(({ status }) => status === 'entered-in-error').length;
  return [
    ...(open > 0 ? [notes.open(open)] : []),
    ...(waits ? [waiting] : []),
    ...(sides.some(({ estimated }) => estimated > 0) ? [notes.estimated] : []),
    ...(sides.some(({ unmeasured }) => unmeasured > 0) ? [notes.unmeasured] : []),
    ...(all.some(({ balance }) => !balance.withWaiting.whole) ? [notes.partial] : []),
    ...(struck > 0 ? [notes.struck(struck)] : []),
    notes.care,
  ];
}
