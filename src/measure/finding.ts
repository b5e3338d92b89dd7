/** What weighing may say of a reading. Codes are kept in the record and never change. */
export const findingCodes = [
  'aboveContainer',
  'aboveFill',
  'aboveBag',
  'betweenLines',
  'nothing',
  'under30PerHour',
  'underHalfPerKg',
  'farAboveOwnRate',
  'sameAgain',
  'beforeLast',
  'sinceLast',
  'overFillMark',
  'vesselErrorWiderThanTolerance',
  'soundAlike',
  'overOstomyDay',
] as const;

export type FindingCode = (typeof findingCodes)[number];

/** Put a question, say "tell the nurse", or only keep it for the reviewer. */
export type Severity = 'ask' | 'tell' | 'note';

/** One thing that a reading shows, with the figures that it rests on. Never a verdict. */
export interface Finding {
  readonly code: FindingCode;
  readonly severity: Severity;
  /** By name; the unit is in the name or is mL. */
  readonly figures: Readonly<Record<string, number>>;
}

/** What a unit may not turn down: an impossible number is asked about, no urine is always told. */
export const fixedSeverities = {
  aboveContainer: 'ask',
  aboveFill: 'ask',
  nothing: 'tell',
} as const satisfies Partial<Record<FindingCode, Severity>>;

export type FreeCode = Exclude<FindingCode, keyof typeof fixedSeverities>;

/** The safe default of the rest. */
export const defaultSeverities: Readonly<Record<FreeCode, Severity>> = {
  aboveBag: 'ask',
  betweenLines: 'ask',
  under30PerHour: 'tell',
  underHalfPerKg: 'tell',
  farAboveOwnRate: 'ask',
  overOstomyDay: 'tell',
  sameAgain: 'ask',
  beforeLast: 'note',
  sinceLast: 'note',
  overFillMark: 'note',
  vesselErrorWiderThanTolerance: 'note',
  soundAlike: 'note',
};

/** How serious a code is in this unit. */
export function severityOf(
  code: FindingCode,
  chosen: Partial<Readonly<Record<FreeCode, Severity>>>,
): Severity {
  return isFixed(code) ? fixedSeverities[code] : (chosen[code] ?? defaultSeverities[code]);
}

function isFixed(code: FindingCode): code is keyof typeof fixedSeverities {
  return code in fixedSeverities;
}
