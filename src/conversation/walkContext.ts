import type { OunceRule } from '../grammar/expectation.ts';
import type { Serving } from '../measure/intake.ts';
import type { Moment } from '../measure/moment.ts';
import type { PadProduct } from '../measure/pad.ts';
import type { Bag, Container } from '../measure/vessel.ts';
import type { Procedure, Step } from '../procedures/schema.ts';
import type { EarFault } from '../speech/ear.ts';
import type { Locale } from '../words/words.ts';
import type { Parked, Settled } from './readingMachine.ts';
import type { Circumstances } from './weighed.ts';

/** The ids of one walk, made before it starts, so that saving twice writes the same event. */
export interface WalkIds {
  readonly walk: string;
  readonly entry: string;
  readonly event: string;
}

export interface WalkInput {
  readonly ids: WalkIds;
  readonly locale: Locale;
  /** Whole and with the unit's variants applied: a later edit does not change a walk on its way. */
  readonly procedure: Procedure;
  readonly bed: { readonly id: string; readonly label: string };
  readonly initials: string;
  readonly container: Container | null;
  readonly bag: Bag | null;
  /** The product that is weighed; its dry weight is taken off. */
  readonly pad: PadProduct | null;
  /** What the unit serves. */
  readonly servings: readonly Serving[];
  /** Procedures that a failed check may hand over to. */
  readonly others: readonly Procedure[];
  /** Whose initials are asked for by voice at the end; null where whoever is signed in signs. */
  readonly roster: readonly string[] | null;
  readonly ounceIn: OunceRule;
  readonly circumstances: Circumstances;
  /** The plan of care names a risk of autonomic dysreflexia. */
  readonly dysreflexiaRisk: boolean;
  /** The unit's words on whom to call, said after each "tell the nurse"; may be empty. */
  readonly nurse?: string;
  readonly startedAt: Moment;
  /** What an unfinished walk had reached, where its exact state can not be taken up again. */
  readonly resume?: WalkProgress;
}

/** What must survive any change of the machine itself. */
export type WalkProgress = Pick<
  WalkContext,
  | 'index'
  | 'settled'
  | 'parked'
  | 'counted'
  | 'handover'
  | 'reader'
  | 'looks'
  | 'alerts'
  | 'savedAt'
>;

/** Something told to the nurse in this walk. */
export interface RaisedAlert {
  readonly code: string;
  readonly words: string;
  readonly at: Moment;
  /** False until the ledger has it. */
  readonly kept: boolean;
}

export interface NotedLook {
  readonly codes: readonly string[];
  readonly words: string;
  readonly at: Moment;
}

/** An episode that was counted, with the words that agreed to it. */
export interface CountedEpisode {
  readonly words: string;
  readonly at: Moment;
}

/** Where another procedure took over, and the words for it. */
export interface Handover {
  readonly from: Procedure;
  /** The step that was left, and the one that was come to. */
  readonly index: number;
  readonly landed: number;
  readonly words: string;
  readonly at: Moment;
}

export interface WalkContext extends WalkInput {
  /** The step now called, from 0. */
  readonly index: number;
  readonly settled: Settled | null;
  readonly parked: Parked | null;
  readonly counted: CountedEpisode | null;
  readonly handover: Handover | null;
  /** Who read it: whoever is signed in, or the initials agreed to by voice; null while open. */
  readonly reader: string | null;
  /** True while a reading is under way, paused or not. */
  readonly readingOpen: boolean;
  readonly looks: readonly NotedLook[];
  readonly alerts: readonly RaisedAlert[];
  /** Said before the next call: "three hundred fifty millilitres, kept." */
  readonly lead: string;
  /** What `answering` says. */
  readonly answer: string;
  /** The last utterance that was not for the assistant: its words, empty where no words fit. */
  readonly talk: string | null;
  /** Why the ear is shut for good, until a person mends it. */
  readonly deaf: EarFault | null;
  readonly poor: 'loud' | 'faint' | null;
  /** True while this device refuses to keep the walk. */
  readonly keepFailing: boolean;
  readonly saveFailures: number;
  readonly savedAt: Moment | null;
}

export function freshContext(input: WalkInput): WalkContext {
  return {
    ...input,
    index: 0,
    settled: null,
    parked: null,
    counted: null,
    handover: null,
    reader: input.roster === null ? input.initials : null,
    readingOpen: false,
    looks: [],
    alerts: [],
    lead: '',
    answer: '',
    talk: null,
    deaf: null,
    poor: null,
    keepFailing: false,
    saveFailures: 0,
    savedAt: null,
    ...input.resume,
  };
}

/** The step now called. */
export function stepOf(context: WalkContext): Step {
  const step = context.procedure.steps[context.index];
  if (step === undefined) throw new Error(`walk_past_end: step ${context.index}`);
  return step;
}
