import type { Command } from '../grammar/expectation.ts';
import type { Moment } from '../measure/moment.ts';
import type { Drunk, Serving } from '../measure/intake.ts';
import type { Millilitres } from '../measure/volume.ts';
import type { Grams } from '../measure/weight.ts';
import type { Alternative, EarName } from '../speech/ear.ts';

/** What stands behind every understood utterance: the words, how they came, and when. */
export interface Evidence {
  readonly alternatives: readonly Alternative[];
  readonly ear: EarName;
  /** When the last word ended. */
  readonly at: Moment;
}

/** A volume as it was said, before anybody agreed to it. */
export interface SaidVolume {
  /** The one volume understood, or null where it could be several or is not a reading. */
  readonly mL: Millilitres | null;
  /** All volumes it could be, likeliest first; holds `mL` where that is known. */
  readonly candidates: readonly Millilitres[];
  /** Fills said in one breath ("nine fifty and four thirty"); empty for one amount. */
  readonly fills: readonly Millilitres[];
  /** "About three hundred": a number, but not one read from a line. */
  readonly approximate: boolean;
  /** True where the ear or the grammar was not sure: the digits are read back. */
  readonly doubtful: boolean;
  /** Numbers that sound like it: 350 and 315. */
  readonly soundAlike: readonly Millilitres[];
  /** Said before it and withdrawn: "three hundred, no, four hundred". */
  readonly withdrawn: readonly Millilitres[];
  /** "Another two hundred": a further fill of the same emptying. */
  readonly further: boolean;
  readonly evidence: Evidence;
  /** Where a pad was weighed: what the scale showed; `mL` is what that stands for. */
  readonly wet?: Grams;
  /** Where a serving was named; `mL` is what counts of it. */
  readonly item?: SaidServing;
}

/** What was said of one serving, and whether it was read from lines or judged by eye. */
export interface SaidServing {
  readonly serving: Serving;
  readonly said: Drunk;
  readonly method: 'measured' | 'estimated';
}

/** What was said, as events. Buttons send the same ones, so screen and voice can not disagree. */
export type SaidEvent =
  | { [Said in Command]: { type: `said.${Said}`; words: string; at: Moment } }[Command]
  | { type: 'said.volume'; volume: SaidVolume }
  | { type: 'said.alert'; code: string; words: string; at: Moment }
  | { type: 'said.look'; codes: readonly string[]; words: string; at: Moment }
  | { type: 'said.initials'; initials: string; words: string; at: Moment }
  /** The check fails: it is soiled. */
  | { type: 'said.otherwise'; words: string; at: Moment }
  /** Between residents: a bed of the unit, and the id of a procedure. */
  | { type: 'said.choice'; bed: string; procedure: string; words: string; at: Moment }
  /** A bed that the unit does not have, or that two beds could be. */
  | { type: 'said.noBed'; words: string; at: Moment }
  | { type: 'said.talk'; words: string; at: Moment };
