import type { Container } from '../../../src/measure/vessel.ts';
import { spelled } from '../../../src/words/en-US/numbers.ts';
import type { Random } from '../../bench/numbers/random.ts';

/** What is said at a bedside and is for nobody's chart. */
const talk = [
  'yes',
  'okay',
  'give me two minutes dear',
  'did you sleep well last night',
  'i will be back at four',
  'your daughter comes at three fifteen',
  'room two twelve needs a hand',
  'that is right dear',
  'no no leave it there love',
  'a hundred milligrams i think',
];

export const talkOf = (random: Random): string => random.pick(talk);

/** A line of the container, and a way to say it. */
export function lineOf(random: Random, { capacity, lineStep }: Container): [number, string] {
  const mL = lineStep * (1 + random.below(capacity / lineStep));
  return [mL, `${random.maybe(0.3, 'it is ')}${spelled(mL)}${random.maybe(0.5, ' milliliters')}`];
}

export const drinks = ['juice half', 'coffee one hundred left', 'water all of it'] as const;
