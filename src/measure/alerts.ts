/**
 * How soon the nurse hears it. `call`: call now and stay with the person. `now`: tell the nurse now.
 * `soon`: tell the nurse before the next resident.
 */
export type Urgency = 'call' | 'now' | 'soon';

/** What an aide may say is wrong. The codes are kept in the record and never change. */
export const alertUrgencies = {
  dysreflexia: 'call',
  fall: 'call',
  choking: 'call',
  blood: 'now',
  clots: 'now',
  nothingDraining: 'now',
  catheterOut: 'now',
  flood: 'now',
  pain: 'now',
  fever: 'now',
  headache: 'now',
  newConfusion: 'now',
  vomitBlood: 'now',
  stomaChange: 'now',
  leak: 'now',
  cloudy: 'soon',
  foul: 'soon',
  soreSkin: 'soon',
  spill: 'soon',
  somethingWrong: 'now',
} as const satisfies Record<string, Urgency>;

export type AlertCode = keyof typeof alertUrgencies;

/** True for a code that this version knows; a record from another version may hold others. */
export function isAlertCode(code: string): code is AlertCode {
  return Object.hasOwn(alertUrgencies, code);
}

/** What may start, or be a sign of, autonomic dysreflexia in a person marked at risk. */
const warnsAtRisk: readonly AlertCode[] = [
  'headache',
  'nothingDraining',
  'pain',
  'catheterOut',
  'leak',
];

/**
 * The alerts that one phrase raises, the most urgent first.
 *
 * For a person marked at risk of dysreflexia a headache, or anything that may keep the bladder
 * full, also raises that warning.
 *
 * @see Consortium for Spinal Cord Medicine, autonomic dysreflexia guideline, 2020
 */
export function alertsRaised(code: AlertCode, atRisk: boolean): AlertCode[] {
  return atRisk && warnsAtRisk.includes(code) ? ['dysreflexia', code] : [code];
}
