import type { CodeableConcept, Coding, Observation, Quantity, Reference } from 'fhir/r4';
import type { Entry } from '../charting/entry.ts';
import { isoOf } from '../measure/moment.ts';
import { charting } from '../words/en-US/charting.ts';
import { fluids } from '../words/en-US/fluids.ts';
import { loincOfKind, systems } from './codes.ts';

const words = charting.exchange;

/** An amount in mL by UCUM. */
export function millilitresQuantity(value: number): Quantity {
  return { value, unit: 'mL', system: systems.ucum, code: 'mL' };
}

/** A bed as the place that an observation is about: beds, not names. */
export function bedReference(root: string, bed: string): Reference {
  return { type: 'Location', identifier: { system: `${root}/bed`, value: bed }, display: bed };
}

export function personReference(root: string, initials: string): Reference {
  return {
    type: 'Practitioner',
    identifier: { system: `${root}/initials`, value: initials },
    display: initials,
  };
}

export const vitalSigns: CodeableConcept[] = [
  { coding: [{ system: systems.category, code: 'vital-signs', display: 'Vital Signs' }] },
];

/**
 * An entry as an R4 Observation.
 *
 * What was not measured has a reason for its absence and never a value of 0.
 *
 * @see http://hl7.org/fhir/R4/observation.html
 */
export function observationOf(entry: Entry, root: string): Observation {
  const { amount, draft } = entry;
  const last = entry.history.at(-1) ?? draft;
  const notes = notesOf(entry);
  return {
    resourceType: 'Observation',
    identifier: [{ system: `${root}/entry`, value: entry.id }],
    status: entry.status,
    category: vitalSigns,
    code: codeOf(entry, root),
    ...(entry.bed ? { subject: bedReference(root, entry.bed) } : {}),
    ...(entry.readAt === null ? {} : { effectiveDateTime: isoOf(entry.readAt) }),
    issued: isoOf(last.at),
    ...(entry.reader ? { performer: [personReference(root, entry.reader)] } : {}),
    ...(amount === null || amount.method === 'unmeasured'
      ? { dataAbsentReason: absent(amount === null ? 'temp-unknown' : 'not-performed') }
      : { valueQuantity: millilitresQuantity(amount.mL) }),
    ...(amount === null ? {} : { method: methodOf(amount.method, root) }),
    ...(notes.length === 0 ? {} : { note: notes.map((text) => ({ text })) }),
    ...componentsOf(entry),
  };
}

function codeOf({ kind, amount }: Entry, root: string): CodeableConcept {
  if (kind === null) return { text: words.openKind };
  const own: Coding = { system: `${root}/fluid-kind`, code: kind, display: fluids[kind] };
  const loinc = loincOfKind[kind];
  const fits = loinc?.method === 'any' || loinc?.method === amount?.method;
  const coding =
    loinc && fits
      ? [{ system: systems.loinc, code: loinc.code, display: loinc.display }, own]
      : [own];
  return { coding, text: fluids[kind] };
}

function absent(code: 'temp-unknown' | 'not-performed'): CodeableConcept {
  return { coding: [{ system: systems.absent, code }] };
}

function methodOf(method: keyof typeof charting.methods, root: string): CodeableConcept {
  const text = charting.methods[method];
  return { coding: [{ system: `${root}/method`, code: method, display: text }], text };
}

/** Minutes of lag from which the note says that an entry was recorded late. */
const lateNoteFrom = 60;

function notesOf({ draft, amount, lag, history, state }: Entry): string[] {
  const minutes = Math.floor((lag ?? 0) / 60_000);
  const reasons = history.flatMap((event) => ('reason' in event ? [event.reason] : []));
  return [
    ...(state === 'reopened' ? [words.reopened] : []),
    ...(amount === null && draft.candidates.length > 0 ? [words.candidates(draft.candidates)] : []),
    ...(minutes >= lateNoteFrom ? [words.late(minutes)] : []),
    ...(draft.note === '' ? [] : [draft.note]),
    ...reasons,
  ];
}

function componentsOf({ amount }: Entry): Pick<Observation, 'component'> {
  if (amount?.method === 'unmeasured') {
    const valueQuantity = { value: amount.count, system: systems.ucum, code: '1' };
    return { component: [{ code: { text: words.episodes }, valueQuantity }] };
  }
  if (amount === null || amount.fills.length < 2) return {};
  return {
    component: amount.fills.map((fill, place) => ({
      code: { text: `${words.fill} ${place + 1}` },
      valueQuantity: millilitresQuantity(fill),
    })),
  };
}
