import type { Listed } from './listed.ts';
import type { Container, ContainerKind } from './vessel.ts';
import { millilitres } from './volume.ts';

const practice = 'trade practice, no published source: read the top mark of the vessel in hand';
const graduates = 'GSA Commercial Item Description A-A-51059, medical graduates';

/** Containers that a unit starts with. Each unit replaces them with those that it holds. */
export const defaultContainers: readonly Listed<Container>[] = [
  listed('graduate', 'Graduate', 1000, 25, practice, 'M'),
  listed('graduate', 'Graduate', 500, 50, `${graduates}, size 1`, 'F', 5),
  listed('graduate', 'Graduate', 1000, 100, `${graduates}, size 2`, 'F', 5),
  listed('graduate', 'Graduate', 1200, 50, practice, 'M'),
  listed('urinal', 'Urinal', 1000, 50, practice, 'M'),
  listed('hat', 'Commode hat', 800, 50, 'general article, 800 to 900 mL; marks from memory', 'W'),
  listed('basin', 'Emesis basin', 500, 50, 'general articles, 500 to 700 mL: choose its size', 'W'),
  listed('emesisBag', 'Emesis bag', 1000, 100, practice, 'M'),
  listed(
    'cup',
    'Cup',
    240,
    30,
    '21 CFR 101.9(b)(5)(viii): a cup is 240 mL; marks from memory',
    'M',
  ),
];

function listed(
  kind: ContainerKind,
  name: string,
  capacity: number,
  lineStep: number,
  source: string,
  grade: Listed<Container>['grade'],
  errorPercent?: number,
): Listed<Container> {
  const item: Container = {
    id: `${kind}-${capacity}-${lineStep}`,
    label: `${name}, ${capacity} mL, line every ${lineStep} mL`,
    kind,
    capacity: millilitres(capacity),
    lineStep: millilitres(lineStep),
    ...(errorPercent === undefined ? {} : { errorPercent }),
  };
  return { item, source, grade };
}

/**
 * How far off a container's own mark may be at a level, mL; null where the maker states nothing.
 *
 * @returns a fraction of a mL where the percentage makes one
 */
export function vesselError(container: Container, mL: number): number | null {
  return container.errorPercent === undefined ? null : (mL * container.errorPercent) / 100;
}
