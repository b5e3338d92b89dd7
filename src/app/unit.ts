import * as v from 'valibot';
import { fillMarks, type FillMark } from '../measure/bags.ts';
import { fluidKinds, type FluidKind } from '../measure/fluid.ts';
import { defaultSeverities, type FreeCode } from '../measure/finding.ts';
import { isMillilitres, type Millilitres } from '../measure/volume.ts';
import { isGrams, type Grams } from '../measure/weight.ts';
import type { Procedure } from '../procedures/schema.ts';

// Messages are codes; what is said for each stands in `words`.
const label = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(40));
const id = v.pipe(v.string(), v.regex(/^[A-Za-z0-9-]{1,40}$/, 'not_id'));
const volume = v.custom<Millilitres>((value) => isMillilitres(value) && value > 0, 'not_volume');
const weight = v.custom<Grams>((value) => isGrams(value) && value > 0, 'not_weight');
const edge = v.pipe(v.string(), v.regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'not_time'));
const whole = (least: number, most: number) =>
  v.pipe(v.number(), v.integer('not_whole'), v.minValue(least), v.maxValue(most));

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

/** What is drunk or eaten as the unit serves it; ice counts half. */
const serving = v.strictObject({ id, label, size: volume, kind: v.picklist(['fluid', 'ice']) });

/** A pad product with its weight before use, g. */
const pad = v.strictObject({ id, label, dry: weight });

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
  initials: v.pipe(v.string(), v.regex(/^[A-Z]{2,4}$/, 'not_initials')),
  role: v.picklist(['aide', 'nurse', 'setup']),
});

/** The findings whose weight a unit may choose, in the order of the list. */
export const freeCodes = Object.keys(defaultSeverities) as FreeCode[];

/** What a unit may be reminded of, in the order of the list. */
export const outputs = (Object.keys(fluidKinds) as FluidKind[]).filter(
  (kind) => fluidKinds[kind] === 'output',
);

/** What is due again by the hour; vomit and loose stool come when they come. */
export const usualDueKinds: readonly FluidKind[] = ['urineCatheter', 'urineVoided', 'ostomy'];

const findings = v.strictObject({
  /** What is left out has the safe default. */
  severities: v.strictObject(
    v.entriesFromList(freeCodes, v.optional(v.picklist(['ask', 'tell', 'note']))),
  ),
  fillMark: v.picklist(Object.keys(fillMarks) as FillMark[]),
  /** mL/h */
  perHourLimit: whole(1, 200),
  /** Tenths of mL/kg/h. */
  perKgTenths: whole(1, 50),
  rateHours: whole(1, 24),
  ownRateTimes: whole(2, 20),
  ownRateIntervals: whole(2, 20),
  sameAgainMinutes: whole(1, 240),
  /** mL either way. */
  tolerance: whole(1, 200),
  /** mL in 24 hours. */
  ostomyDayLimit: whole(100, 10_000),
});

/** A unit as it was set up: one readable file, exported and imported whole. */
export const unitSchema = v.strictObject({
  schema: v.literal(1),
  name: label,
  beds: v.pipe(v.array(bed), v.minLength(1)),
  containers: v.pipe(v.array(container), v.minLength(1)),
  bags: v.array(bag),
  servings: v.array(serving),
  pads: v.array(pad),
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
  lateAfter: whole(1, 24 * 60),
  findings,
  /** Whom to call and how; said after every "tell the nurse". Empty adds nothing. */
  nurse: v.pipe(v.string(), v.trim(), v.maxLength(120)),
  /** `remote` sends sound away from the device, and stands here only by name. */
  ear: v.picklist(['auto', 'bundled', 'typed', 'remote']),
  /** Whether whoever read it says initials at the end; else whoever is signed in signs. */
  voiceInitials: v.optional(v.boolean(), false),
  /** Hours since the last entry of a kind from which a bed is shown as due. */
  dueAfter: v.optional(whole(1, 24), 8),
  /** What is looked at for that; a bed is due for each kind by itself. */
  dueKinds: v.optional(v.array(v.picklist(outputs)), () => [...usualDueKinds]),
  /** The unit's own procedures, as their files read. Those of the same id as ours stand in for them. */
  procedures: v.array(v.custom<Procedure>(isRecord, 'not_procedure')),
});

function isRecord(value: unknown): boolean {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export type Unit = v.InferOutput<typeof unitSchema>;
export type Bed = Unit['beds'][number];
