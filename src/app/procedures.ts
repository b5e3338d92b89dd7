import { checkedBefore } from '../procedures/load.ts';
import { procedureFor } from '../procedures/procedureFor.ts';
import type { Procedure } from '../procedures/schema.ts';
import type { Unit } from './unit.ts';

const files = import.meta.glob<unknown>('../procedures/en-US/*.json', {
  import: 'default',
  eager: true,
});

/** The order in which an aide meets them on a round. */
const order = ['drainage-bag', 'leg-bag', 'urinal', 'bedpan-hat', 'emesis', 'ostomy-pouch'];
const placeOf = ({ id }: Procedure): number => (order.includes(id) ? order.indexOf(id) : 99);

/** The procedures that come with the program; `npm run validate` checks them before it is built. */
export const builtIn: readonly Procedure[] = Object.values(files)
  .map(checkedBefore)
  .sort((one, other) => placeOf(one) - placeOf(other));

/** A procedure in the order and words that this unit chose. */
export function procedureOfUnit(procedure: Procedure, unit: Unit): Procedure {
  const { rinse, record, rounding } = unit;
  return procedureFor(procedure, { rinse, record, rounding });
}
