import type { Serving } from '../measure/intake.ts';
import type { PadProduct } from '../measure/pad.ts';
import type { Container } from '../measure/vessel.ts';
import type { Millilitres } from '../measure/volume.ts';

/**
 * What may be said now. The walk's state and the vessel in the hand decide it; the ear's grammar is
 * narrowed to it, and whatever else is heard is talk.
 */
export type Expectation =
  /** A step was called: the step commands and nothing else. */
  | { readonly state: 'step' }
  /** A check that another procedure takes over from: the step commands, and the phrase for it. */
  | { readonly state: 'check' }
  /** An episode is counted: confirm, dispute, the step commands. */
  | { readonly state: 'counting' }
  /** The walk is on hold: only `carryOn`, `number` and help. */
  | { readonly state: 'held' }
  /** The container is read: a volume, the fill words, the step commands. */
  | {
      readonly state: 'reading';
      readonly container: Container;
      readonly ounceIn: OunceRule;
      /** Fills already settled in this emptying. */
      readonly fills: readonly Millilitres[];
    }
  /** A number was read back: confirm, dispute, another number. */
  | {
      readonly state: 'readback';
      readonly container: Container;
      readonly ounceIn: OunceRule;
      readonly proposed: Millilitres;
    }
  /** A wet pad lies on the scale: grams, the phrase for a soiled one, the step commands. */
  | { readonly state: 'weighing'; readonly pad: PadProduct }
  /** Grams were read back: confirm, dispute, other grams. */
  | { readonly state: 'weighed'; readonly pad: PadProduct }
  /** A tray: a serving with what was drunk of it, the end of the list, the step commands. */
  | { readonly state: 'tray'; readonly servings: readonly Serving[] }
  /** A serving, or the sum of a tray, was read back. */
  | { readonly state: 'trayReadback'; readonly servings: readonly Serving[] }
  /** The look step: colour, clarity, odour and what was seen. */
  | { readonly state: 'look' }
  /** Initials, letter by letter or in the spelling alphabet; only those on the roster. */
  | { readonly state: 'initials'; readonly roster: readonly string[] }
  /** Initials were read back: confirm, dispute, other initials. */
  | { readonly state: 'initialsReadback'; readonly roster: readonly string[] }
  /** Between residents: "bed four, drainage bag". */
  | {
      readonly state: 'choosing';
      readonly beds: readonly string[];
      readonly procedures: readonly string[];
    }
  /** A bed and a procedure were read back: begin, dispute, another choice. */
  | {
      readonly state: 'chosen';
      readonly beds: readonly string[];
      readonly procedures: readonly string[];
    }
  /** Practice: the step commands, and the end of the round. */
  | { readonly state: 'practice' }
  /**
   * Practice: the next step in the trainee's own words. One entry a step; a sentence that has a word
   * of each of its lists names it.
   */
  | { readonly state: 'recall'; readonly steps: readonly (readonly (readonly string[])[])[] };

/** A fluid ounce by the unit's own rule: 30 mL (21 CFR 101.9) or 29.5735 mL (UCUM `[foz_us]`). */
export type OunceRule = 30 | 29.5735;

/** A phrase that moves the walk. The names are ours; what is said for each stands in `grammars/`. */
export type Command =
  | 'next'
  | 'again'
  | 'why'
  | 'back'
  | 'hold'
  | 'carryOn'
  | 'number'
  | 'help'
  | 'confirm'
  | 'dispute'
  | 'wrong'
  | 'addFill'
  | 'noMore'
  /** Practice: hear the step that is due; end the round. */
  | 'tell'
  | 'stop';
