import * as v from 'valibot';
import { isMillilitres, type Millilitres } from '../measure/volume.ts';

const label = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(40));
const id = v.pipe(v.string(), v.regex(/^[a-z0-9-]{1,40}$/));
const volume = v.custom<Millilitres>((value) => isMillilitres(value) && value > 0, 'not whole mL');

const edge = v.pipe(v.string(), v.regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'not a time of day'));

const container = v.strictObject({
  id,
  label,
  kind: v.picklist(['graduate', 'urinal', 'hat', 'basin', 'emesisBag', 'cup']),
  capacity: volume,
  lineStep: volume,
  /** Printed error of the marks, percent, where the maker states one. */
  errorPercent: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(50))),
});

const bag = v.strictObject({
  id,
  label,
  kind: v.picklist(['bedside', 'leg', 'pouch']),
  capacity: volume,
});

const bed = v.strictObject({
  id,
  label,
  /** Ids from the unit's lists; null until somebody chose. */
  bag: v.nullable(id),
  container: v.nullable(id),
  /** kg, for the mL per kg and hour rule; null when none is on file. */
  weight: v.nullable(v.pipe(v.number(), v.minValue(1), v.maxValue(400))),
  /** The plan of care names a risk of autonomic dysreflexia. */
  dysreflexiaRisk: v.boolean(),
});

const member = v.strictObject({
  initials: v.pipe(v.string(), v.regex(/^[A-Z]{2,4}$/)),
  role: v.picklist(['aide', 'nurse', 'setup']),
});

/** A unit as it was set up: one readable file, exported and imported whole. */
export const unitSchema = v.strictObject({
  schema: v.literal(1),
  name: label,
  beds: v.pipe(v.array(bed), v.minLength(1)),
  containers: v.pipe(v.array(container), v.minLength(1)),
  bags: v.array(bag),
  roster: v.pipe(v.array(member), v.minLength(1)),
  plan: v.strictObject({
    /** IANA zone of the unit. */
    zone: v.pipe(v.string(), v.minLength(1)),
    shifts: v.pipe(v.array(v.strictObject({ name: label, from: edge })), v.minLength(1)),
    /** Where the 24 hours are closed. */
    dayFrom: edge,
  }),
  /** mL in a fluid ounce, by the unit's own rule. */
  ounceIn: v.picklist([30, 29.5735]),
  rinse: v.picklist(['afterReading', 'beforeReading']),
  record: v.picklist(['afterHandsWashed', 'beforeGlovesOff', 'beforeHandsWashed']),
  rounding: v.picklist(['nearest', 'up']),
  /** Whether whoever drafted an entry may confirm it. */
  selfReview: v.boolean(),
  /** Minutes between reading and record after which an entry is marked late. */
  lateAfter: v.pipe(v.number(), v.integer(), v.minValue(1)),
  /** The remote ear sends sound away from the device. Off unless the unit says so by name. */
  remoteEar: v.boolean(),
});

export type Unit = v.InferOutput<typeof unitSchema>;
export type Bed = Unit['beds'][number];
export type Member = Unit['roster'][number];
