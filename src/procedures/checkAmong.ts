import { fault, type Fault } from './fault.ts';
import { loadProcedure, type Loaded } from './load.ts';
import type { Procedure } from './schema.ts';

/**
 * What is wrong with a sound procedure beside the others of the unit: its spoken names are taken,
 * or it hands over to a procedure that is not there.
 *
 * One of the same id is replaced, so its own former names are free.
 */
export function checkAmong(procedure: Procedure, others: readonly Procedure[]): Fault[] {
  const rest = others.filter(({ id }) => id !== procedure.id);
  const taken = procedure.spoken.flatMap((name, index) => {
    const owner = rest.find(({ spoken }) => spoken.includes(name));
    return owner === undefined ? [] : [fault('name_taken', `spoken.${index}`, name)];
  });
  const known = new Set([procedure.id, ...rest.map(({ id }) => id)]);
  const lost = procedure.steps.flatMap(({ otherwise }, index) =>
    otherwise === undefined || known.has(otherwise)
      ? []
      : [fault('otherwise_unknown', `steps.${index}.otherwise`, otherwise)],
  );
  return [...taken, ...lost];
}

/** Read a unit's own procedure file, to stand beside the others; nothing of a faulty one is used. */
export function importProcedure(text: string, others: readonly Procedure[]): Loaded {
  return loadProcedure(text, (procedure) => checkAmong(procedure, others));
}
