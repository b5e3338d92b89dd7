import type { SnapshotFrom } from 'xstate';
import type { readingMachine } from '../../conversation/readingMachine.ts';
import type { SaidVolume } from '../../conversation/said.ts';
import { isTray, servingText, traySum } from '../../conversation/tray.ts';
import type { trayMachine } from '../../conversation/trayMachine.ts';
import type { WalkContext } from '../../conversation/walkContext.ts';
import { amountStep } from '../../conversation/walkMoves.ts';
import type { Container } from '../../measure/vessel.ts';
import { bedside } from '../../words/en-US/bedside.ts';
import { amountText } from '../../words/en-US/numbers.ts';

type ReadingContext = SnapshotFrom<typeof readingMachine>['context'];
type TrayContext = SnapshotFrom<typeof trayMachine>['context'];

export interface ShownNumber {
  /** Drawn with its lines; null where nothing is read from lines. */
  readonly container: Container | null;
  /** mL; null while there is none, and for a tray of two methods, which have no one figure. */
  readonly amount: number | null;
  readonly fills: readonly number[];
  /** How it came about: a pad's weights, the servings of a tray. */
  readonly notes: readonly string[];
  readonly standing: 'none' | 'open' | 'kept' | 'parked';
  readonly candidates: readonly number[];
}

interface Children {
  readonly reading?: ReadingContext | undefined;
  readonly tray?: TrayContext | undefined;
}

/**
 * What the number view shows: under a reading the amount discussed, afterwards the one kept or left
 * open, and nothing before the first reading.
 */
export function numberOf(walk: WalkContext, { reading, tray }: Children): ShownNumber | null {
  const underWay = reading ?? tray;
  if (walk.readingOpen && underWay !== undefined) {
    const { kept, candidate } = underWay;
    const said = candidate === null ? kept : [...kept, candidate];
    return shown(walk, said, said.some(({ mL }) => mL !== null) ? 'open' : 'none');
  }
  if (walk.settled !== null) return shown(walk, walk.settled.fills, 'kept');
  if (walk.parked === null) return null;
  const { candidates, fills } = walk.parked;
  return { ...shown(walk, fills, 'parked'), amount: null, fills: [], candidates };
}

function shown(
  walk: WalkContext,
  said: readonly SaidVolume[],
  standing: ShownNumber['standing'],
): ShownNumber {
  const fills = said.flatMap(({ mL }) => (mL === null ? [] : [mL]));
  const sum = fills.reduce((all, mL) => all + mL, 0);
  const { measured, estimated } = traySum(said);
  const isMixed = isTray(said) && measured > 0 && estimated > 0;
  return {
    container: amountStep(walk.procedure)?.kind === 'reading' ? walk.container : null,
    amount: fills.length === 0 || isMixed ? null : sum,
    fills,
    notes: notesOf(walk, said),
    standing,
    candidates: [],
  };
}

function notesOf({ locale, pad }: WalkContext, said: readonly SaidVolume[]): string[] {
  const { walk } = bedside;
  const wet = said.at(-1)?.wet;
  if (wet !== undefined && pad !== null) return [walk.padWeighed(wet, pad.dry)];
  if (!isTray(said)) return [];
  const { measured, estimated } = traySum(said);
  return [
    ...said.map((one) => `${servingText(one, locale)}: ${amountText(one.mL ?? 0)}`),
    ...(measured > 0 ? [walk.measured(amountText(measured))] : []),
    ...(estimated > 0 ? [walk.estimated(amountText(estimated))] : []),
  ];
}
