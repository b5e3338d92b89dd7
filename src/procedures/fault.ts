/** What may be wrong with a procedure file. What is said for each stands in `words`. */
export type FaultCode =
  // the file
  | 'not_json'
  | 'repeated_key'
  | 'wrong_form'
  // references
  | 'repeated_step'
  | 'unknown_source'
  | 'unused_source'
  | 'no_source'
  | 'no_keywords'
  | 'variant_unknown_step'
  | 'variant_repeated'
  | 'variant_is_default'
  | 'otherwise_itself'
  | 'otherwise_unknown'
  | 'name_taken'
  | 'critical_unreachable'
  // hands and gloves
  | 'no_first_hand_hygiene'
  | 'no_last_hand_hygiene'
  | 'hands_not_washed_after_gloves'
  | 'gloves_never_on'
  | 'gloves_never_off'
  | 'gloved_outside_gloves'
  | 'bare_inside_gloves'
  | 'fluid_without_gloves'
  | 'touch_while_gloved'
  | 'document_before_hands_washed'
  | 'no_document'
  // bag and tap
  | 'tap_left_open'
  | 'tap_closed_before_opened'
  | 'tap_not_wiped'
  | 'wiped_before_closed'
  | 'tap_not_returned'
  | 'returned_before_wiped'
  | 'bag_point_missing'
  // measuring
  | 'no_measuring'
  | 'measured_twice'
  | 'unmeasured_has_amount'
  | 'no_flat_surface'
  | 'no_eye_level'
  | 'poured_before_reading'
  | 'rinse_enters_measure'
  | 'no_container_named'
  | 'own_container_unchecked'
  | 'soil_unchecked'
  | 'scale_not_zeroed'
  | 'wrong_direction'
  // wording
  | 'forbidden_act'
  | 'call_too_long'
  | 'call_many_sentences'
  | 'unsafe_unit'
  | 'judging_word'
  | 'asks_name'
  | 'licensed_uncautioned';

/** One thing wrong, and where. */
export interface Fault {
  readonly code: FaultCode;
  /** Where in the file: `steps.3.call`; empty for the whole file. */
  readonly path: string;
  /** The line in the file, from 1; null when the text was not at hand. */
  readonly line: number | null;
  /** The word, mark, step or setting that the fault is about. */
  readonly about: string;
}

/** Make a fault; its line is filled in by whoever holds the text. */
export function fault(code: FaultCode, path: string, about = ''): Fault {
  return { code, path, line: null, about };
}
