import { fluidKinds, type Direction, type FluidKind } from '../measure/fluid.ts';
import type { Entry } from './entry.ts';
import { waitsIn } from './status.ts';

/** What some entries come to. Measured and estimated mL are never added into one figure. */
export interface Figures {
  /** mL */
  readonly measured: number;
  /** mL */
  readonly estimated: number;
  /** Unmeasured episodes: counted, never 0 mL. */
  readonly unmeasured: number;
  readonly entries: number;
}

/** Confirmed figures, and beside them what still waits for a reviewer. */
export interface Standing {
  /** Entries that a reviewer confirmed: final, and amended. */
  readonly confirmed: Figures;
  /** Entries that wait for a reviewer: preliminary, and those whose confirmation was taken back. */
  readonly waiting: Figures;
}

/** Intake minus output, mL. */
export interface Balance {
  readonly measured: number;
  readonly estimated: number;
  /** False while estimated amounts or unmeasured episodes stand beside the measured ones. */
  readonly whole: boolean;
}

export interface Sums {
  readonly intake: Standing;
  readonly output: Standing;
  readonly byKind: Readonly<Partial<Record<FluidKind, Standing>>>;
  readonly balance: { readonly confirmed: Balance; readonly withWaiting: Balance };
  /** Entries whose kind or amount is still open: in no figure, and not to be overlooked. */
  readonly open: number;
}

const none: Figures = { measured: 0, estimated: 0, unmeasured: 0, entries: 0 };
const nothing: Standing = { confirmed: none, waiting: none };

/** Confirmed and waiting figures together: what the sum will be if all is confirmed as it stands. */
export function withWaiting({ confirmed, waiting }: Standing): Figures {
  return plus(confirmed, waiting);
}

/** What entries come to; those entered in error count nowhere. */
export function sumsOf(entries: readonly Entry[]): Sums {
  const directions: Record<Direction, Standing> = { intake: nothing, output: nothing };
  const byKind: Partial<Record<FluidKind, Standing>> = {};
  let open = 0;
  for (const entry of entries) {
    if (entry.status === 'entered-in-error') continue;
    const figures = figuresOf(entry);
    if (entry.kind === null || figures === null) {
      open += 1;
      continue;
    }
    const side = waitsIn(entry.state) ? 'waiting' : 'confirmed';
    const direction = fluidKinds[entry.kind];
    directions[direction] = added(directions[direction], side, figures);
    byKind[entry.kind] = added(byKind[entry.kind] ?? nothing, side, figures);
  }
  const { intake, output } = directions;
  return {
    intake,
    output,
    byKind,
    balance: {
      confirmed: balanceOf(intake.confirmed, output.confirmed),
      withWaiting: balanceOf(withWaiting(intake), withWaiting(output)),
    },
    open,
  };
}

function figuresOf({ amount }: Entry): Figures | null {
  switch (amount?.method) {
    case undefined:
      return null;
    case 'measured':
      return { ...none, measured: amount.mL, entries: 1 };
    case 'estimated':
      return { ...none, estimated: amount.mL, entries: 1 };
    case 'unmeasured':
      return { ...none, unmeasured: amount.count, entries: 1 };
    default:
      throw unexpected(amount);
  }
}

function plus(one: Figures, other: Figures): Figures {
  return {
    measured: one.measured + other.measured,
    estimated: one.estimated + other.estimated,
    unmeasured: one.unmeasured + other.unmeasured,
    entries: one.entries + other.entries,
  };
}

function added(standing: Standing, side: keyof Standing, figures: Figures): Standing {
  return { ...standing, [side]: plus(standing[side], figures) };
}

function balanceOf(intake: Figures, output: Figures): Balance {
  const apart = plus(intake, output);
  return {
    measured: intake.measured - output.measured,
    estimated: intake.estimated - output.estimated,
    whole: apart.estimated === 0 && apart.unmeasured === 0,
  };
}

function unexpected(value: never): Error {
  return new Error(`amount_unknown: ${JSON.stringify(value)}`);
}
