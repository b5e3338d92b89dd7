import type { Listed } from './listed.ts';
import type { PadProduct } from './pad.ts';
import { grams } from './weight.ts';

const invented = 'invented, no source: weigh a dry one of each product that the unit holds';

/** Pads that a unit starts with. Each unit replaces them with its own products, weighed dry. */
export const defaultPads: readonly Listed<PadProduct>[] = [
  pad('pad-small', 'Pad, small', 35),
  pad('pad-large', 'Pad, large', 62),
  pad('brief-medium', 'Brief, medium', 88),
  pad('brief-large', 'Brief, large', 104),
  pad('bed-pad', 'Bed pad, 60 by 90 cm', 96),
];

function pad(id: string, label: string, dry: number): Listed<PadProduct> {
  return { item: { id, label, dry: grams(dry) }, source: invented, grade: 'M' };
}
