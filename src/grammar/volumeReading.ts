import type { Millilitres } from '../measure/volume.ts';
import type { UnreadableCode } from './readWords.ts';

/** Why an utterance is not a volume. */
export type VolumeRefusal =
  | UnreadableCode
  | 'no_number'
  | 'not_a_volume'
  | 'too_large'
  | 'tangled'
  | 'time'
  | 'date'
  | 'place'
  | 'age'
  | 'phone'
  | 'dose'
  | 'temperature'
  | 'vitals'
  | 'money'
  | 'count'
  | 'other_unit'
  | 'missing_reading';

/** Why several numbers, or none, are meant. */
export type Doubt =
  'range' | 'bound' | 'choice' | 'twoWays' | 'twoNumbers' | 'clock' | 'unitMissing' | 'counting';

export type HeardUnit = 'mL' | 'litre' | 'ounce' | 'cup';

/** How a number was understood. */
export interface HowUnderstood {
  /** The way of saying, as the grammar names it: `cardinal`, `droppedHundred`, `digits` ... */
  readonly form: string;
  /** Null where no unit was said: mL is then meant. */
  readonly unit: HeardUnit | null;
  /** Numbers said first and taken back, oldest first, mL. */
  readonly corrected: readonly Millilitres[];
  /** The fills said in one breath, mL; empty where there is one. */
  readonly fills: readonly Millilitres[];
  /** "Plus", "another": to be added to what was settled before. */
  readonly isAdded: boolean;
  /** A word was taken for another that sounds the same ("for" for "four"). */
  readonly isMisheard: boolean;
}

/** What an utterance says about a volume. Exactly one of a number, candidates or a refusal. */
export interface VolumeReading {
  readonly said: string;
  readonly mL: Millilitres | null;
  readonly how: HowUnderstood | null;
  /** "About", "or so": the assistant asks. */
  readonly approximate: boolean;
  /** The numbers that may be meant, mL, smallest first; empty where it is clear or refused. */
  readonly ambiguous: readonly Millilitres[];
  readonly doubt: Doubt | null;
  /** Numbers that sound like this one, mL. */
  readonly soundAlike: readonly Millilitres[];
  readonly refused: VolumeRefusal | null;
  /** Several readings were possible; only one can be read on this container. */
  readonly decidedByContainer: boolean;
  /** That this is the only reading, 0 to 1; 0 without a number. Not a probability of having heard right. */
  readonly confidence: number;
}
