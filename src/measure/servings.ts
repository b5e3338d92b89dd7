import type { Serving } from './intake.ts';
import type { Listed } from './listed.ts';
import { millilitres } from './volume.ts';

const sheet = 'hospital fact sheet on fluid intake (UW Health 475)';
const label = '21 CFR 101.9(b)(5)(viii)';

/** Servings that a unit starts with; cups and bowls differ, so each unit keeps its own list. */
export const defaultServings: readonly Listed<Serving>[] = [
  serving('water', 'Water, cup', 240, label, 'F'),
  serving('coffee', 'Coffee or tea, cup', 240, label, 'F'),
  serving('juice', 'Juice', 120, sheet, 'F'),
  serving('milk', 'Milk', 240, sheet, 'F'),
  serving('soda', 'Soda, can', 360, sheet, 'F'),
  serving('soda-ice', 'Soda with ice', 270, `${sheet}: 270 to 280`, 'F'),
  serving('broth', 'Broth or cream soup', 180, sheet, 'F'),
  serving('soup', 'Soup with solids', 120, sheet, 'F'),
  serving('gelatin', 'Gelatin', 120, `${sheet}; an older edition says 90`, 'F'),
  serving('ice-cream', 'Ice cream', 120, sheet, 'F'),
  serving('sherbet', 'Sherbet', 120, sheet, 'F'),
  serving('ice-pop', 'Ice pop', 80, `${sheet}: 80 to 90`, 'F'),
  serving('ice-chips', 'Ice chips, cup', 240, 'cup of 21 CFR 101.9; ice counts half', 'F', 'ice'),
];

function serving(
  id: string,
  name: string,
  size: number,
  source: string,
  grade: Listed<Serving>['grade'],
  kind: Serving['kind'] = 'fluid',
): Listed<Serving> {
  return { item: { id, label: name, size: millilitres(size), kind }, source, grade };
}
