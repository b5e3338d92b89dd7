import { checkAmong, importProcedure } from '../procedures/checkAmong.ts';
import type { Fault } from '../procedures/fault.ts';
import { procedureOf } from '../procedures/load.ts';
import type { Procedure } from '../procedures/schema.ts';
import { builtIn } from './procedures.ts';

/** What an aide of this unit may walk: ours, with the unit's own in their place or after them. */
export function withOwn(own: readonly Procedure[]): Procedure[] {
  const ids = new Set(builtIn.map(({ id }) => id));
  return [
    ...builtIn.map((ours) => own.find(({ id }) => id === ours.id) ?? ours),
    ...own.filter(({ id }) => !ids.has(id)),
  ];
}

export type OwnAdded =
  | { readonly ok: true; readonly own: Procedure[]; readonly procedure: Procedure }
  /** By line; nothing of the file is used. */
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Take a file in among the unit's own. One of the same id is replaced. */
export function addOwn(own: readonly Procedure[], text: string): OwnAdded {
  const loaded = importProcedure(text, withOwn(own));
  if (!loaded.ok) return loaded;
  const { procedure } = loaded;
  const rest = own.filter(({ id }) => id !== procedure.id);
  return { ok: true, own: [...rest, procedure], procedure };
}

/**
 * Read the procedures of a unit's file, each among all others.
 *
 * Paths of faults begin with the place in the list: `2.steps.3.call`.
 */
export function readOwn(own: readonly unknown[]): {
  readonly procedures: Procedure[];
  readonly faults: Fault[];
} {
  const loaded = own.map(procedureOf);
  const procedures = loaded.flatMap((each) => (each.ok ? [each.procedure] : []));
  const all = withOwn(procedures);
  const faults = loaded.flatMap((each, index) => {
    const found = each.ok ? checkAmong(each.procedure, all) : each.faults;
    return found.map((fault) => ({
      ...fault,
      path: fault.path === '' ? `${index}` : `${index}.${fault.path}`,
    }));
  });
  return { procedures, faults };
}
