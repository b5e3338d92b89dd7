import type { Millilitres } from './volume.ts';

export type ContainerKind = 'graduate' | 'urinal' | 'hat' | 'basin' | 'emesisBag' | 'cup';

/** What the fluid is measured in: a vessel with printed lines. */
export interface Container {
  readonly id: string;
  readonly label: string;
  readonly kind: ContainerKind;
  /** The top line. Nothing above it can be read. */
  readonly capacity: Millilitres;
  /** Distance between two printed lines; more than 0. */
  readonly lineStep: Millilitres;
  /** The printed error of its marks, percent of the mark, where the maker states one. */
  readonly errorPercent?: number;
}

export type BagKind = 'bedside' | 'leg' | 'pouch';

/** What is emptied: the bag on the bed, on the leg, or the pouch over a stoma. */
export interface Bag {
  readonly id: string;
  readonly label: string;
  readonly kind: BagKind;
  readonly capacity: Millilitres;
}
