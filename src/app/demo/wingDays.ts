import type { AlertCode } from '../../measure/alerts.ts';
import type { FluidKind } from '../../measure/fluid.ts';

/**
 * When something happened: so many days ago at a time on the wing's wall, so many minutes before now,
 * or so many minutes after the clocks were last changed.
 */
export type DemoWhen =
  | { readonly days: number; readonly at: string }
  | { readonly ago: number }
  | { readonly afterChange: number };

export type DemoAmount =
  | { readonly mL: number; readonly fills?: readonly number[]; readonly method?: 'estimated' }
  | { readonly episodes: number }
  /** What may have been meant, mL: the reading is parked. */
  | { readonly parked: readonly number[] };

export interface DemoEntry {
  /** Names the entry within the demo. */
  readonly key: string;
  /** The reading. */
  readonly when: DemoWhen;
  /** Minutes from the reading to the record; 4 where it is left out. */
  readonly recordedAfter?: number;
  readonly bed: string;
  readonly by: string;
  readonly fluid: FluidKind;
  readonly procedure: string;
  readonly amount: DemoAmount;
  readonly container?: string;
  readonly bag?: string;
  /** How it was put in; by the bundled ear where it is left out. */
  readonly ear?: 'typed';
  /** What the ear made of each utterance, and the volume taken from it, mL. */
  readonly said: readonly (readonly [words: string, mL: number | null])[];
  readonly readBack: string | null;
  readonly answer: string | null;
  readonly findings?: readonly {
    readonly code: string;
    readonly numbers: Readonly<Record<string, number>>;
  }[];
  readonly looks?: readonly { readonly code: string; readonly words: string }[];
  readonly working?: { readonly code: string; readonly numbers: Readonly<Record<string, number>> };
}

export interface DemoDecision {
  readonly on: string;
  readonly when: DemoWhen;
  readonly by: string;
  readonly act:
    | { readonly confirm: true }
    | { readonly amendTo: number; readonly reason: string }
    | { readonly strike: string }
    | { readonly undo: true };
}

export interface DemoAlert {
  readonly when: DemoWhen;
  readonly by: string;
  readonly bed: string;
  readonly code: AlertCode;
  /** What the aide said. */
  readonly words: string;
  /** The entry that it goes with. */
  readonly on?: string;
  readonly taken?: { readonly when: DemoWhen; readonly by: string; readonly note: string };
}

/** Everything that happened on the wing, in any order. */
export interface WingDays {
  readonly entries: readonly DemoEntry[];
  readonly decisions: readonly DemoDecision[];
  readonly alerts: readonly DemoAlert[];
}
