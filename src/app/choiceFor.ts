import type { PadProduct } from '../measure/pad.ts';
import type { Bag, Container } from '../measure/vessel.ts';
import type { Procedure } from '../procedures/schema.ts';
import type { Bed, Unit } from './unit.ts';

/** What is needed to begin: chosen with clean hands. */
export interface Choice {
  readonly bed: Bed;
  readonly procedure: Procedure;
  readonly container: Container | null;
  readonly bag: Bag | null;
  /** What is weighed; left out where nothing is. */
  readonly pad?: PadProduct | null;
}

/** Ids that a person picked in place of what the bed starts from. */
export interface Picked {
  readonly container?: string;
  readonly bag?: string;
  readonly pad?: string;
}

/** What may be picked for a procedure. */
export function vesselsFor({ containers, bags, pads }: Unit, procedure: Procedure) {
  const isWeighed = procedure.steps.some(({ kind }) => kind === 'weigh');
  return {
    containers: containers.filter(({ kind }) => procedure.containers.includes(kind)),
    bags: bags.filter(({ kind }) => procedure.bags?.includes(kind) === true),
    pads: isWeighed ? pads : [],
    /** A pad can not be weighed where no dry weight is on file. */
    lacksPad: isWeighed && pads.length === 0,
  };
}

/** Bed and procedure with their vessels: those picked, else the bed's own, else the first that fit. */
export function choiceFor(
  unit: Unit,
  bed: Bed,
  procedure: Procedure,
  picked: Picked = {},
): Choice | null {
  const { containers, bags, pads, lacksPad } = vesselsFor(unit, procedure);
  if (lacksPad) return null;
  return {
    bed,
    procedure,
    container:
      named(containers, picked.container) ?? named(containers, bed.container) ?? first(containers),
    bag: named(bags, picked.bag) ?? named(bags, bed.bag) ?? first(bags),
    pad: named(pads, picked.pad) ?? first(pads),
  };
}

type Named = { readonly id: string };

const first = <Item>(items: readonly Item[]): Item | null => items[0] ?? null;
const named = <Item extends Named>(
  items: readonly Item[],
  id: string | null | undefined,
): Item | null => items.find((item) => item.id === id) ?? null;
