import { fault, type Fault } from '../fault.ts';
import { defaultSettings, type Procedure } from '../schema.ts';

/** Every name that a file uses is declared in it, once. */
export function referenceRules(procedure: Procedure): Fault[] {
  const faults: Fault[] = [];
  const ids = new Set<string>();
  const cited = new Set<string>();
  procedure.steps.forEach((step, index) => {
    const path = `steps.${index}`;
    if (ids.has(step.id)) faults.push(fault('repeated_step', `${path}.id`, step.id));
    ids.add(step.id);
    if (step.sources.length === 0) faults.push(fault('no_source', path, step.id));
    step.sources.forEach((source, at) => {
      cited.add(source);
      if (!(source in procedure.sources))
        faults.push(fault('unknown_source', `${path}.sources.${at}`, source));
    });
    if (step.keywords.length === 0) faults.push(fault('no_keywords', path, step.id));
    if (step.otherwise === procedure.id)
      faults.push(fault('otherwise_itself', `${path}.otherwise`, step.id));
  });

  const seen = new Set<string>();
  procedure.variants.forEach((variant, at) => {
    const path = `variants.${at}`;
    const named = `${variant.setting} ${variant.is}`;
    if (seen.has(named)) faults.push(fault('variant_repeated', path, named));
    seen.add(named);
    if (defaultSettings[variant.setting] === variant.is)
      faults.push(fault('variant_is_default', path, named));
    cited.add(variant.source);
    if (!(variant.source in procedure.sources))
      faults.push(fault('unknown_source', `${path}.source`, variant.source));
    const steps = [
      ...(variant.move ?? []).flatMap((move) => [
        move.step,
        'before' in move ? move.before : move.after,
      ]),
      ...(variant.reword ?? []).map(({ step }) => step),
    ];
    for (const step of steps)
      if (!ids.has(step)) faults.push(fault('variant_unknown_step', path, step));
  });

  for (const source of Object.keys(procedure.sources))
    if (!cited.has(source)) faults.push(fault('unused_source', `sources.${source}`, source));
  return faults;
}
