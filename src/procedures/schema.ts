import * as v from 'valibot';
import { fluidKinds, type FluidKind } from '../measure/fluid.ts';
import { marks } from './marks.ts';

/** The version of the form of a procedure file. Files of another version are refused. */
export const procedureSchemaVersion = 1;

const name = v.pipe(v.string(), v.regex(/^[a-z][A-Za-z0-9-]*$/, 'not a plain name'));
const sentence = v.pipe(v.string(), v.trim(), v.nonEmpty('is empty'), v.maxLength(400, 'too long'));
const fluids = Object.keys(fluidKinds) as [FluidKind, ...FluidKind[]];

/** How sure we are of a source: F read, P found but quoted from memory, W weak, M from memory. */
export const grades = ['F', 'P', 'W', 'M'] as const;

const source = v.strictObject({
  title: sentence,
  /** Edition, section or page within it. */
  clause: v.optional(sentence),
  grade: v.picklist(grades),
});

/** Where published standards differ, the unit chooses. Each value names a published order. */
export const settingValues = {
  /** When a bedpan, urinal or basin is rinsed. */
  rinse: ['afterReading', 'beforeReading'],
  /** When the entry is made, gloves and hand-washing considered. */
  record: ['afterHandsWashed', 'beforeGlovesOff', 'beforeHandsWashed'],
  /** What is said when the level stands between two lines. */
  rounding: ['nearest', 'up'],
} as const;

const settingNames = Object.keys(settingValues) as (keyof typeof settingValues)[];

export const stepKinds = [
  'act',
  'check',
  'reading',
  'look',
  'document',
  'intake',
  'weigh',
  'count',
] as const;

const step = v.strictObject({
  id: name,
  kind: v.picklist(stepKinds),
  /** What is said aloud: one plain imperative sentence. */
  call: sentence,
  /** Why the step is there, in one or two sentences. */
  why: sentence,
  /** True when hands are gloved while the step is done. */
  gloved: v.boolean(),
  critical: v.boolean(),
  marks: v.array(v.picklist(marks)),
  /**
   * How a trainee may name the step. Each inner list holds words of like meaning; a sentence that
   * has one of every list names the step.
   */
  keywords: v.array(v.pipe(v.array(sentence), v.minLength(1))),
  sources: v.array(name),
  /** What the room is likely to sound like, so that the ear may be readied. */
  hearingHint: v.optional(v.picklist(['runningWater', 'numbers', 'initials'])),
  /** The procedure that takes over when the check fails. */
  otherwise: v.optional(name),
  /** The step stands only where the unit chose this; left out, it always stands. */
  only: v.optional(v.strictObject({ setting: v.picklist(settingNames), is: name })),
});

const variant = v.variant('setting', [
  variantOf('rinse', v.picklist(settingValues.rinse)),
  variantOf('record', v.picklist(settingValues.record)),
  variantOf('rounding', v.picklist(settingValues.rounding)),
]);

function variantOf<Name extends string, Value extends v.GenericSchema>(setting: Name, is: Value) {
  return v.strictObject({
    setting: v.literal(setting),
    is,
    source: name,
    /** Steps that stand elsewhere, each directly before or after another. */
    move: v.optional(
      v.array(
        v.union([
          v.strictObject({ step: name, before: name }),
          v.strictObject({ step: name, after: name }),
        ]),
      ),
    ),
    /** Steps that are called in other words. */
    reword: v.optional(v.array(v.strictObject({ step: name, call: sentence, why: sentence }))),
  });
}

/** A procedure file, as written. What the types cannot hold is in `check.ts`. */
export const procedureSchema = v.strictObject({
  schema: v.literal(procedureSchemaVersion),
  id: name,
  title: sentence,
  /** How it is called when it is chosen by voice. */
  spoken: v.pipe(v.array(v.pipe(sentence, v.toLowerCase())), v.minLength(1)),
  fluid: v.picklist(fluids),
  method: v.picklist(['measured', 'estimated', 'unmeasured']),
  /** Kinds of bag it empties; left out when no bag is emptied. */
  bags: v.optional(v.pipe(v.array(v.picklist(['bedside', 'leg', 'pouch'])), v.minLength(1))),
  /** Kinds of vessel it may be read in; empty when nothing is read from lines. */
  containers: v.array(v.picklist(['graduate', 'urinal', 'hat', 'basin', 'emesisBag', 'cup'])),
  /** What local policy may leave to licensed staff; shown before the first step. */
  caution: v.optional(sentence),
  sources: v.record(name, source),
  steps: v.pipe(v.array(step), v.minLength(1)),
  variants: v.optional(v.array(variant), []),
});

export type Procedure = v.InferOutput<typeof procedureSchema>;
export type Step = Procedure['steps'][number];
export type Variant = Procedure['variants'][number];

/** The unit's choice among published orders. */
export type ProcedureSettings = {
  readonly [Name in keyof typeof settingValues]: (typeof settingValues)[Name][number];
};

/** NNAAP's own order; nearest line. */
export const defaultSettings: ProcedureSettings = {
  rinse: 'afterReading',
  record: 'afterHandsWashed',
  rounding: 'nearest',
};
