/**
 * What is wrong with a procedure file, for the person who wrote it: one sentence a code, with what
 * to do. `about` is the word, mark, step or setting that the fault names.
 */
export const procedureFaults = {
  not_json: () => 'This is not JSON from here on. Look for a missing comma, quote or bracket.',
  repeated_key: (about: string) => `"${about}" stands twice. Keep one of them.`,
  wrong_form: (about: string) => `The form is not right: ${about}.`,
  repeated_step: (about: string) => `Two steps are called "${about}". Give each its own id.`,
  unknown_source: (about: string) => `The source "${about}" is not in the list of sources. Add it.`,
  unused_source: (about: string) => `No step names the source "${about}". Name it or take it out.`,
  no_source: (about: string) => `The step "${about}" names no source. Say where it comes from.`,
  no_keywords: (about: string) =>
    `The step "${about}" has no key words, so a trainee can not name it. Add some.`,
  variant_unknown_step: (about: string) =>
    `A variant names the step "${about}", which is not there.`,
  variant_repeated: (about: string) => `The variant "${about}" stands twice. Keep one of them.`,
  variant_is_default: (about: string) =>
    `The variant "${about}" is the default order. Write the steps in that order and take it out.`,
  otherwise_itself: (about: string) =>
    `The step "${about}" hands over to its own procedure. Name another one.`,
  otherwise_unknown: (about: string) =>
    `A step hands over to "${about}", which is not there. Add that procedure first.`,
  name_taken: (about: string) =>
    `Another procedure is called "${about}" already. Choose a new name.`,
  critical_unreachable: (about: string) =>
    `This critical step stands only under "${about}" and is left out otherwise. Let it always stand.`,
  no_first_hand_hygiene: () => 'Hands are not cleaned before the work starts. Add that step first.',
  no_last_hand_hygiene: () => 'Hands are not washed at the end. Add a step marked handsWashed.',
  hands_not_washed_after_gloves: () =>
    'Hands are not washed directly after the gloves come off. Put that step next.',
  gloves_never_on: (about: string) =>
    `The step "${about}" is gloved, but no step puts gloves on. Add one before it.`,
  gloves_never_off: () => 'Gloves go on and never come off. Add a step marked glovesOff.',
  gloved_outside_gloves: (about: string) =>
    `The step "${about}" is gloved, but gloves are not on there. Move it between gloves on and off.`,
  bare_inside_gloves: (about: string) =>
    `The step "${about}" is not gloved, but stands between gloves on and off. Mark it or move it.`,
  fluid_without_gloves: (about: string) =>
    `Fluid is met here (${about}) without gloves. Put gloves on before it.`,
  touch_while_gloved: (about: string) =>
    `This asks for a touch ("${about}") while gloved. Let it be done by voice, or after hands are washed.`,
  document_before_hands_washed: () =>
    'The entry is made before hands are washed. Move it after, or name a variant with its source.',
  no_document: () => 'Nothing is recorded. Add a step of kind "document".',
  tap_left_open: () => 'The tap is opened and never closed. Add a step marked closeTap.',
  tap_closed_before_opened: () => 'The tap is closed before it is opened. Change the order.',
  tap_not_wiped: () => 'The tap is never wiped. Add a step marked wipeTap after it is closed.',
  wiped_before_closed: () => 'The tap is wiped before it is closed. Close it first.',
  tap_not_returned: () => 'The tap is not put back in its holder. Add a step marked tapInHolder.',
  returned_before_wiped: () => 'The tap goes back in its holder before it is wiped. Wipe it first.',
  bag_point_missing: (about: string) =>
    `A point of care for urine bags is missing: ${about}. Add a step with that mark.`,
  no_measuring: (about: string) =>
    about === 'count'
      ? 'An unmeasured episode is counted. Add a step of kind "count".'
      : 'Nothing is measured. Add a step of kind "reading", "weigh" or "intake".',
  measured_twice: () =>
    'The amount is taken twice. Keep one such step; fills belong to one reading.',
  unmeasured_has_amount: () => 'An unmeasured episode has no amount. Take this step out.',
  no_flat_surface: () => 'The container is not on a flat surface before it is read. Add that step.',
  no_eye_level: () => 'The level is not read at eye level, after the flat surface. Add that mark.',
  poured_before_reading: () => 'The fluid is poured away before it is read. Read it first.',
  rinse_enters_measure: () =>
    'Rinse water could be measured. Rinse after the reading, or only the emptied pan by a variant.',
  no_container_named: () => 'A reading needs a container. Name the kinds that may be used.',
  own_container_unchecked: () =>
    "The container is not checked to be the resident's own and clean. Add a step marked ownContainer.",
  soil_unchecked: () =>
    'The pad is weighed before it is looked at for stool. Add that check first.',
  scale_not_zeroed: () => 'The scale is not set to zero before weighing. Add that step.',
  wrong_direction: (about: string) =>
    `The fluid "${about}" does not fit: what is drunk needs an "intake" step, output needs none.`,
  forbidden_act: (about: string) =>
    `"${about}" is not for an aide to do. Take it out; licensed staff do it.`,
  call_too_long: (about: string) => `The call has ${about} words. Say it in 14 or fewer.`,
  call_many_sentences: () => 'The call is more than one sentence. Make two steps of it.',
  unsafe_unit: (about: string) => `"${about}" may be misread. Write mL.`,
  judging_word: (about: string) => `"${about}" judges. Say what is seen and whom to tell.`,
  asks_name: (about: string) => `"${about}" asks for a name or speaks one. Say "the resident".`,
  licensed_uncautioned: (about: string) =>
    `"${about}" may be left to licensed staff. Add a caution that says so.`,
} as const satisfies Record<string, (about: string) => string>;
