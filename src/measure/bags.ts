import type { Listed } from './listed.ts';
import type { Bag } from './vessel.ts';
import { millilitres, type Millilitres } from './volume.ts';

/** Bags that a unit starts with. */
export const defaultBags: readonly Listed<Bag>[] = [
  {
    item: bag('bedside', 'Bedside bag', 2000),
    source: 'Welsh NHS test-lab data card (2 L); aid-agency catalogue (2 L)',
    grade: 'F',
  },
  {
    item: bag('leg', 'Leg bag', 500),
    source: 'Nursing Times 104:43 (2008); Devon NHS formulary 2022',
    grade: 'F',
  },
  {
    item: bag('leg', 'Leg bag', 750),
    source: 'usual UK size',
    grade: 'W',
  },
  {
    item: bag('pouch', 'Drainable pouch', 500),
    source: 'from memory: sizes differ, ask for the one in use',
    grade: 'M',
  },
];

function bag(kind: Bag['kind'], name: string, capacity: number): Bag {
  return {
    id: `${kind}-${capacity}`,
    label: `${name}, ${capacity} mL`,
    kind,
    capacity: millilitres(capacity),
  };
}

/**
 * When a bag should have been emptied, as a part of what it holds. Published advice differs:
 * one-half and two-thirds in US teaching, two-thirds in UK leg-bag advice, three-quarters in NSW
 * Health 2021.
 */
export const fillMarks = {
  half: [1, 2],
  twoThirds: [2, 3],
  threeQuarters: [3, 4],
} as const;

export type FillMark = keyof typeof fillMarks;

/** True when a bag held more than its fill mark: exactly at the mark is still in time. */
export function overFillMark(held: Millilitres, { capacity }: Bag, mark: FillMark): boolean {
  const [part, of] = fillMarks[mark];
  return held * of > capacity * part;
}
