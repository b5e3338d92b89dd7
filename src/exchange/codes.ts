import type { FluidKind } from '../measure/fluid.ts';

/** A LOINC code with its long common name, and whether it may stand for an estimate. */
export interface LoincCode {
  readonly code: string;
  readonly display: string;
  /** `any` says nothing of the method; a `Measured` code must not be put on an estimate. */
  readonly method: 'any' | 'measured' | 'estimated';
}

/**
 * What each kind is in LOINC, null where no fitting code was found: then only our own stands.
 *
 * The catheter is no part of 9187-6: it stands in our own code. For a point-in-time volume of stool
 * no code was found.
 */
export const loincOfKind: Readonly<Record<FluidKind, LoincCode | null>> = {
  urineCatheter: { code: '9187-6', display: 'Urine output', method: 'any' },
  urineVoided: { code: '9187-6', display: 'Urine output', method: 'any' },
  urinePad: { code: '9187-6', display: 'Urine output', method: 'any' },
  emesis: { code: '9137-1', display: 'Fluid output emesis', method: 'any' },
  ostomy: {
    code: '79560-9',
    display: 'Fluid output gastrointestinal ostomy [Volume] Measured',
    method: 'measured',
  },
  stoolLiquid: null,
  oralFluid: { code: '9000-1', display: 'Fluid intake oral Measured', method: 'measured' },
};

/**
 * 24 h totals. Their property is a rate, so they fit a day of 24 h and the unit mL/d only. No code
 * for a 24 h balance was confirmed.
 */
export const loincOfDayTotal: Readonly<Record<'intake' | 'output', LoincCode>> = {
  intake: { code: '9108-2', display: 'Fluid intake total 24 hour', method: 'any' },
  output: { code: '9262-7', display: 'Fluid output total 24 hour', method: 'any' },
};

export const systems = {
  loinc: 'http://loinc.org',
  ucum: 'http://unitsofmeasure.org',
  category: 'http://terminology.hl7.org/CodeSystem/observation-category',
  absent: 'http://terminology.hl7.org/CodeSystem/data-absent-reason',
  operation: 'http://terminology.hl7.org/CodeSystem/v3-DataOperation',
  participant: 'http://terminology.hl7.org/CodeSystem/provenance-participant-type',
} as const;

/** The root of our own identifiers and codes, until a unit sets one that it owns (RFC 2606 name). */
export const usualRoot = 'https://gloveside.example/fhir';
