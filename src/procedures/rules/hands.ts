import { fault, type Fault } from '../fault.ts';
import { firstWith, lastWith } from '../gloveSpan.ts';
import type { Mark } from '../marks.ts';
import type { Procedure, ProcedureSettings } from '../schema.ts';

const fluidMarks: readonly Mark[] = [
  'openTap',
  'closeTap',
  'wipeTap',
  'tapInHolder',
  'handleFluid',
  'transfer',
  'weigh',
  'pour',
  'rinse',
  'disinfect',
];

/** Asking for a hand on the device or on paper: what a glove must never do. */
const touching =
  /\b(?:screen|button|keyboard|type|press|swipe|click|write|pen|phone|tablet|tap (?:next|here|done|the device))\b/i;

/** Hand hygiene at both ends, gloves before fluid, no touch between. */
export function handRules(procedure: Procedure, settings: ProcedureSettings): Fault[] {
  const { steps } = procedure;
  const faults: Fault[] = [];
  const on = firstWith(steps, 'glovesOn');
  const off = lastWith(steps, 'glovesOff');
  const hygiene = firstWith(steps, 'handHygiene');
  const washed = lastWith(steps, 'handsWashed');
  const document = steps.findIndex(({ kind }) => kind === 'document');
  const outermost = on >= 0 ? on : steps.findIndex(({ marks }) => marks.includes('handleFluid'));
  const start = outermost >= 0 ? outermost : steps.findIndex(({ kind }) => kind !== 'act');

  if (hygiene < 0 || hygiene > start) faults.push(fault('no_first_hand_hygiene', 'steps'));
  if (washed <= Math.max(on, hygiene)) faults.push(fault('no_last_hand_hygiene', 'steps'));
  if (on >= 0 && off < on) faults.push(fault('gloves_never_off', `steps.${on}`));

  if (off >= 0) {
    const next = steps[off + 1];
    const lenient = settings.record === 'beforeHandsWashed' && next?.kind === 'document';
    const then = lenient ? steps[off + 2] : next;
    if (then?.marks.includes('handsWashed') !== true)
      faults.push(fault('hands_not_washed_after_gloves', `steps.${off}`, next?.id ?? ''));
  }

  if (document < 0) faults.push(fault('no_document', 'steps'));
  else if (document < washed && settings.record === 'afterHandsWashed')
    faults.push(fault('document_before_hands_washed', `steps.${document}`));

  return faults.concat(steps.flatMap((step, index) => stepFaults(step, index, on, off)));
}

function stepFaults(
  step: Procedure['steps'][number],
  index: number,
  on: number,
  off: number,
): Fault[] {
  const path = `steps.${index}`;
  const faults: Fault[] = [];
  const inside = on >= 0 && index >= on && (off < 0 || index <= off);
  if (step.gloved && on < 0) faults.push(fault('gloves_never_on', `${path}.gloved`, step.id));
  else if (step.gloved && !inside)
    faults.push(fault('gloved_outside_gloves', `${path}.gloved`, step.id));
  if (!step.gloved && inside) faults.push(fault('bare_inside_gloves', `${path}.gloved`, step.id));
  const fluid = step.marks.find((mark) => fluidMarks.includes(mark));
  if (fluid !== undefined && !(step.gloved && inside))
    faults.push(fault('fluid_without_gloves', `${path}.marks`, fluid));
  const touch = touching.exec(step.call);
  if (touch !== null && step.gloved)
    faults.push(fault('touch_while_gloved', `${path}.call`, touch[0]));
  return faults;
}
