import type { Procedure, ProcedureSettings, Step, Variant } from './schema.ts';

/** A procedure's variant names a step that is not there: the file was used unchecked. */
export class VariantError extends Error {
  override readonly name = 'VariantError';
  readonly code = 'variant_unknown_step';
}

/**
 * A procedure in the order and the words that this unit chose.
 *
 * @throws {VariantError} for a procedure that `checkProcedure` refuses
 */
export function procedureFor(procedure: Procedure, settings: ProcedureSettings): Procedure {
  const standing = procedure.steps.filter(
    ({ only }) => only === undefined || settings[only.setting] === only.is,
  );
  const chosen = procedure.variants.filter((each) => settings[each.setting] === each.is);
  return { ...procedure, steps: chosen.reduce(varied, standing) };
}

function varied(steps: readonly Step[], variant: Variant): Step[] {
  const moved = (variant.move ?? []).reduce<readonly Step[]>((order, move) => {
    const { step } = placeOf(order, move.step);
    const rest = order.filter(({ id }) => id !== move.step);
    const beside = placeOf(rest, 'before' in move ? move.before : move.after);
    const at = 'before' in move ? beside.index : beside.index + 1;
    // What is moved in among gloved steps is done with gloves on.
    const gloved =
      beside.step.gloved && ('before' in move || !beside.step.marks.includes('glovesOff'));
    return [...rest.slice(0, at), { ...step, gloved }, ...rest.slice(at)];
  }, steps);
  const said = new Map((variant.reword ?? []).map((each) => [each.step, each]));
  return moved.map((step) => {
    const words = said.get(step.id);
    return words === undefined ? step : { ...step, call: words.call, why: words.why };
  });
}

function placeOf(steps: readonly Step[], id: string): { index: number; step: Step } {
  const index = steps.findIndex((each) => each.id === id);
  const step = steps[index];
  if (step === undefined) throw new VariantError(`variant_unknown_step: no step "${id}"`);
  return { index, step };
}
