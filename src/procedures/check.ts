import { fault, type Fault } from './fault.ts';
import { procedureFor } from './procedureFor.ts';
import { handRules } from './rules/hands.ts';
import { measuringRules } from './rules/measuring.ts';
import { referenceRules } from './rules/references.ts';
import { tapRules } from './rules/tap.ts';
import { wordingRules } from './rules/wording.ts';
import { settingValues, type Procedure, type ProcedureSettings } from './schema.ts';

/** Every choice that a unit may make, the default first. */
export const everySetting: readonly ProcedureSettings[] = settingValues.rinse.flatMap((rinse) =>
  settingValues.record.flatMap((record) =>
    settingValues.rounding.map((rounding) => ({ rinse, record, rounding })),
  ),
);

/**
 * All that is wrong with a procedure of the right form; none means that it may be used.
 *
 * The order of steps is checked for every choice of the unit's settings, so that no combination of
 * variants makes an unsafe walk.
 */
export function checkProcedure(procedure: Procedure): Fault[] {
  const named = referenceRules(procedure);
  const faults = [...named, ...wordingRules(procedure)];
  if (named.some(({ code }) => code === 'variant_unknown_step' || code === 'repeated_step'))
    return faults;

  const known = new Set<string>();
  for (const settings of everySetting) {
    const chosen = procedureFor(procedure, settings);
    for (const each of [
      ...handRules(chosen, settings),
      ...tapRules(chosen),
      ...measuringRules(chosen, settings),
    ]) {
      const placed = { ...each, path: asWritten(each.path, chosen, procedure) };
      const key = `${placed.code} ${placed.path} ${placed.about}`;
      if (!known.has(key)) faults.push(placed);
      known.add(key);
    }
  }
  return faults.concat(unreachable(procedure));
}

/** A path into the varied order, turned back into one into the file. */
function asWritten(path: string, chosen: Procedure, written: Procedure): string {
  return path.replace(/^steps\.(\d+)/, (whole, at: string) => {
    const id = chosen.steps[Number(at)]?.id;
    const index = written.steps.findIndex((step) => step.id === id);
    return index < 0 ? whole : `steps.${index}`;
  });
}

/** A critical step that some choice leaves out, with no other that does the same. */
function unreachable(procedure: Procedure): Fault[] {
  return procedure.steps.flatMap((step, index) => {
    if (!step.critical) return [];
    const missing = everySetting.find((settings) => {
      const { steps } = procedureFor(procedure, settings);
      return !steps.some(
        (other) =>
          other.id === step.id ||
          (other.critical &&
            step.marks.length > 0 &&
            step.marks.every((mark) => other.marks.includes(mark))),
      );
    });
    const why = step.only;
    return missing === undefined || why === undefined
      ? []
      : [fault('critical_unreachable', `steps.${index}`, `${why.setting} ${why.is}`)];
  });
}
