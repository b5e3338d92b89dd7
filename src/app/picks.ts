import * as v from 'valibot';
import { choiceFor, type Choice, type Picked } from './choiceFor.ts';
import type { Bed, Unit } from './unit.ts';

const picked = v.object({
  container: v.optional(v.string()),
  bag: v.optional(v.string()),
  pad: v.optional(v.string()),
});

/** By bed id and procedure id. */
const picks = v.record(v.string(), v.record(v.string(), picked));

/** What was picked last at each bed, where that is not what the bed starts from. */
export type Picks = Readonly<Record<string, Readonly<Record<string, Picked>>>>;

/** Picks as this device kept them; none where they can not be read: then a bed starts as set up. */
export function readPicks(data: unknown): Picks {
  const read = v.safeParse(picks, data);
  return read.success ? read.output : {};
}

export function pickedAt(known: Picks, bed: string, procedure: string): Picked {
  return known[bed]?.[procedure] ?? {};
}

/** The picks after a walk was begun with this choice; the same object where nothing is new. */
export function withPick(known: Picks, unit: Unit, choice: Choice): Picks {
  const { bed, procedure } = choice;
  const start = choiceFor(unit, bed, procedure);
  const own: Picked = Object.fromEntries(
    (['container', 'bag', 'pad'] as const).flatMap((what) => {
      const id = choice[what]?.id;
      return id === undefined || id === start?.[what]?.id ? [] : [[what, id]];
    }),
  );
  const before = pickedAt(known, bed.id, procedure.id);
  if (JSON.stringify(before) === JSON.stringify(own)) return known;
  const { [procedure.id]: _, ...others } = known[bed.id] ?? {};
  const isOwn = Object.keys(own).length > 0;
  return { ...known, [bed.id]: isOwn ? { ...others, [procedure.id]: own } : others };
}

/** A bed that was set up anew starts from that, and one that is gone is forgotten. */
export function picksAfterSetUp(
  known: Picks,
  before: readonly Bed[],
  after: readonly Bed[],
): Picks {
  const stays = ({ id, container, bag }: Bed): boolean =>
    before.some((bed) => bed.id === id && bed.container === container && bed.bag === bag);
  const kept = after.filter(stays).map(({ id }) => id);
  return Object.fromEntries(Object.entries(known).filter(([id]) => kept.includes(id)));
}
