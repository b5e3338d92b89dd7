import type { Observation, Quantity } from 'fhir/r4';
import type { Entry } from '../charting/entry.ts';
import type { Sheet } from '../charting/sheet.ts';
import { waitsIn } from '../charting/status.ts';
import { withWaiting } from '../charting/sums.ts';
import { fluidKinds, type Direction } from '../measure/fluid.ts';
import { isoOf, type Moment } from '../measure/moment.ts';
import { charting } from '../words/en-US/charting.ts';
import { loincOfDayTotal, systems } from './codes.ts';
import { bedReference, millilitresQuantity, vitalSigns } from './observation.ts';

const words = charting.exchange;
const fullDay = 24 * 3_600_000;

/** What a total is of; its id within a bed and a day. */
type TotalKind = 'intake' | 'output' | 'balance';

/**
 * The totals of a sheet as derived Observations: intake, output and balance of measured amounts.
 *
 * Preliminary amounts are in the figure only while the status says preliminary, and the note says how
 * much of it waits. A day that the clocks made longer or shorter has no 24 h code.
 *
 * @param moments - the day's first and last instant with their offsets, and when it was summed up
 */
export function totalsOf(
  sheet: Sheet,
  moments: { readonly start: Moment; readonly end: Moment; readonly issued: Moment },
  root: string,
): Observation[] {
  const { intake, output, balance } = sheet.total;
  const figures: readonly (readonly [TotalKind, number, number])[] = [
    ['intake', withWaiting(intake).measured, intake.waiting.measured],
    ['output', withWaiting(output).measured, output.waiting.measured],
    [
      'balance',
      balance.withWaiting.measured,
      balance.withWaiting.measured - balance.confirmed.measured,
    ],
  ];
  return figures.flatMap(([kind, value, waiting]) => {
    const members = sheet.entries.filter((entry) => countsIn(entry, kind));
    if (members.length === 0) return [];
    const unsettled = members.some(({ state }) => waitsIn(state));
    const notes = [
      ...(waiting === 0 ? [] : [words.waiting(waiting)]),
      ...(balance.withWaiting.whole ? [] : [words.partial]),
    ];
    const day = sheet.day.to - sheet.day.from === fullDay && kind !== 'balance';
    return {
      resourceType: 'Observation' as const,
      identifier: [{ system: `${root}/total`, value: `${sheet.bed}|${sheet.day.date}|${kind}` }],
      status: unsettled ? ('preliminary' as const) : ('final' as const),
      category: vitalSigns,
      code: codeOf(kind, day, root),
      subject: bedReference(root, sheet.bed),
      effectivePeriod: { start: isoOf(moments.start), end: isoOf(moments.end) },
      issued: isoOf(moments.issued),
      valueQuantity: day ? perDay(value) : millilitresQuantity(value),
      ...(notes.length === 0 ? {} : { note: notes.map((text) => ({ text })) }),
      derivedFrom: members.map(({ id }) => ({ reference: `urn:uuid:${id}` })),
    };
  });
}

function perDay(value: number): Quantity {
  return { value, unit: 'mL/d', system: systems.ucum, code: 'mL/d' };
}

function countsIn({ kind, amount, status }: Entry, total: TotalKind): boolean {
  if (kind === null || amount?.method !== 'measured' || status === 'entered-in-error') return false;
  const direction: Direction = fluidKinds[kind];
  return total === 'balance' || direction === total;
}

function codeOf(kind: TotalKind, day: boolean, root: string): Observation['code'] {
  const text = {
    intake: words.intakeTotal,
    output: words.outputTotal,
    balance: words.balance,
  }[kind];
  const own = { system: `${root}/total`, code: kind, display: text };
  const loinc = kind === 'balance' || !day ? null : loincOfDayTotal[kind];
  const coding = loinc
    ? [{ system: systems.loinc, code: loinc.code, display: loinc.display }, own]
    : [own];
  return { coding, text };
}
