import { fluidKinds } from '../../measure/fluid.ts';
import { fault, type Fault } from '../fault.ts';
import { firstWith } from '../gloveSpan.ts';
import type { Procedure, ProcedureSettings } from '../schema.ts';

/** Flat and eye level before the reading; nothing poured away or watered down before it. */
export function measuringRules(procedure: Procedure, settings: ProcedureSettings): Fault[] {
  const { steps } = procedure;
  const amounts = steps.flatMap(({ kind }, index) =>
    kind === 'reading' || kind === 'weigh' || kind === 'intake' ? [index] : [],
  );
  const counts = steps.some(({ kind }) => kind === 'count');
  const faults: Fault[] = [];

  if (procedure.method === 'unmeasured') {
    if (!counts) faults.push(fault('no_measuring', 'steps', 'count'));
    for (const index of amounts) faults.push(fault('unmeasured_has_amount', `steps.${index}.kind`));
    return faults;
  }
  if (amounts.length === 0) faults.push(fault('no_measuring', 'steps'));
  const again = amounts[1];
  if (again !== undefined) faults.push(fault('measured_twice', `steps.${again}`));

  const reading = steps.findIndex(({ kind }) => kind === 'reading');
  if (reading >= 0) faults.push(...readingFaults(procedure, reading, settings));

  const weigh = steps.findIndex(({ kind }) => kind === 'weigh');
  if (weigh >= 0) {
    const before = steps.slice(0, weigh);
    if (firstWith(before, 'notSoiled') < 0) faults.push(fault('soil_unchecked', `steps.${weigh}`));
    if (firstWith(before, 'zeroScale') < 0)
      faults.push(fault('scale_not_zeroed', `steps.${weigh}`));
  }

  const intake = steps.findIndex(({ kind }) => kind === 'intake');
  if (intake >= 0 !== (fluidKinds[procedure.fluid] === 'intake'))
    faults.push(fault('wrong_direction', 'fluid', procedure.fluid));
  return faults;
}

function readingFaults(
  { steps, containers }: Procedure,
  reading: number,
  settings: ProcedureSettings,
): Fault[] {
  const at = `steps.${reading}`;
  const faults: Fault[] = [];
  const flat = firstWith(steps, 'flatSurface');
  const eye = firstWith(steps, 'eyeLevel');
  const transfer = firstWith(steps, 'transfer');
  const pour = firstWith(steps, 'pour');
  const rinse = firstWith(steps, 'rinse');
  const own = firstWith(steps, 'ownContainer');
  if (flat < 0 || flat > reading) faults.push(fault('no_flat_surface', at));
  if (eye < 0 || eye > reading || eye < flat) faults.push(fault('no_eye_level', at));
  if (pour >= 0 && pour < reading) faults.push(fault('poured_before_reading', `steps.${pour}`));
  // What is rinsed before the reading is the pan, once it is empty and where the unit says so.
  const allowed = settings.rinse === 'beforeReading' && transfer >= 0 && rinse > transfer;
  if (rinse >= 0 && rinse < reading && !allowed)
    faults.push(fault('rinse_enters_measure', `steps.${rinse}`));
  if (containers.length === 0) faults.push(fault('no_container_named', 'containers'));
  if (own < 0 || own > reading) faults.push(fault('own_container_unchecked', at));
  return faults;
}
