import { overFillMark, fillMarks, type FillMark } from './bags.ts';
import { vesselError } from './containers.ts';
import {
  findingCodes,
  severityOf,
  type Finding,
  type FindingCode,
  type FreeCode,
  type Severity,
} from './finding.ts';
import type { FluidKind } from './fluid.ts';
import { gapAround, roundToLine, type Rounding } from './lines.ts';
import { hour, isUnderPerHour, isUnderPerKg, perHour, perKgHour } from './rates.ts';
import type { Bag, Container } from './vessel.ts';
import { sumOf, type Millilitres } from './volume.ts';
import type { Grams } from './weight.ts';

/** A number that was just read. */
export interface Reading {
  /** The level of the container now in the hand, or the fluid of a pad, mL. */
  readonly mL: Millilitres;
  /** Fills of this emptying that are settled already, mL. */
  readonly fills: readonly Millilitres[];
  /** Null where nothing is read from lines: a weighed pad. */
  readonly container: Container | null;
  readonly kind: FluidKind;
  /** When it was read, ms since the Unix epoch. */
  readonly at: number;
  /** Numbers that sound like it, from the grammar's tables. */
  readonly soundAlike: readonly Millilitres[];
}

/** An earlier amount of the same bed and kind. */
export interface Earlier {
  readonly mL: Millilitres;
  readonly at: number;
}

/** What is known of the bag and of the record when the number is read. */
export interface Circumstances {
  readonly bag: Bag | null;
  /** Earlier amounts of this bed and kind, in any order; none when nothing is known. */
  readonly earlier: readonly Earlier[];
  /** The person's weight where the unit keeps one. */
  readonly weight: Grams | null;
  readonly settings: FindingSettings;
}

/** The unit's own limits. */
export interface FindingSettings {
  readonly severities: Partial<Readonly<Record<FreeCode, Severity>>>;
  readonly rounding: Rounding;
  readonly fillMark: FillMark;
  /** mL an hour; below it, over `rateHours` and more, something is said. */
  readonly perHourLimit: number;
  /** Tenths of mL/kg/h. */
  readonly perKgTenths: number;
  /** Hours since the last emptying from which rates count. */
  readonly rateHours: number;
  /** How many times the person's own recent rate is far above it. */
  readonly ownRateTimes: number;
  /** Earlier intervals needed before an own rate is spoken of. */
  readonly ownRateIntervals: number;
  /** The same amount within so many minutes is likely the same entry. */
  readonly sameAgainMinutes: number;
  /** mL either way; a vessel whose printed error is wider is noted. */
  readonly tolerance: number;
  /** mL of a drainable pouch in 24 hours from which the nurse is told. */
  readonly ostomyDayLimit: number;
}

/**
 * 30 mL/h over 2 hours: state university nursing-skills page. 0.5 mL/kg/h: London (Ontario)
 * critical-care standard, rev. 2023. 25 mL: NNAAP. A pouch's day: reviews name limits of 1,000 to
 * 2,000 mL. The rest is our own choice, without a source.
 */
export const defaultFindingSettings: FindingSettings = {
  severities: {},
  rounding: 'nearest',
  fillMark: 'twoThirds',
  perHourLimit: 30,
  perKgTenths: 5,
  rateHours: 2,
  ownRateTimes: 3,
  ownRateIntervals: 3,
  sameAgainMinutes: 15,
  tolerance: 25,
  ostomyDayLimit: 1500,
};

const urine: readonly FluidKind[] = ['urineCatheter', 'urineVoided'];

/**
 * Look at a number that was read: what must be asked, told or noted, the most pressing first.
 *
 * Rates and the "nothing" of a fill that follows others are judged on the whole emptying.
 */
export function weigh(reading: Reading, circumstances: Circumstances): Finding[] {
  const found: [FindingCode, Record<string, number>][] = [
    ...vesselFacts(reading, circumstances),
    ...recordFacts(reading, circumstances),
    ...soundFacts(reading),
  ];
  return found
    .map(([code, figures]) => ({
      code,
      severity: severityOf(code, circumstances.settings.severities),
      figures,
    }))
    .sort((one, other) => rank(one) - rank(other));
}

const pressing: Record<Severity, number> = { ask: 0, tell: 100, note: 200 };

/** What asks first, then what tells; among equals the order of the list of codes. */
const rank = ({ code, severity }: Finding): number =>
  pressing[severity] + findingCodes.indexOf(code);

type Fact = [FindingCode, Record<string, number>];

function vesselFacts({ mL, fills, container }: Reading, { bag, settings }: Circumstances): Fact[] {
  const facts: Fact[] = [];
  if (container === null) return facts;
  const total = sumOf([...fills, mL]);
  const { capacity } = container;
  if (mL > capacity) {
    facts.push(
      fills.length === 0
        ? ['aboveContainer', { mL, capacity }]
        : ['aboveFill', { mL, capacity, fill: fills.length + 1 }],
    );
  }
  const gap = gapAround(container, mL);
  if (gap !== null) {
    const line = roundToLine(container, mL, settings.rounding) ?? mL;
    facts.push(['betweenLines', { mL, below: gap.below, above: gap.above, line }]);
  }
  if (bag !== null && total > bag.capacity) {
    facts.push(['aboveBag', { mL: total, capacity: bag.capacity }]);
  } else if (bag !== null && overFillMark(total, bag, settings.fillMark)) {
    const [part, of] = fillMarks[settings.fillMark];
    const mark = Math.floor((bag.capacity * part) / of);
    facts.push(['overFillMark', { mL: total, mark, capacity: bag.capacity }]);
  }
  const error = vesselError(container, mL);
  if (error !== null && error > settings.tolerance) {
    facts.push(['vesselErrorWiderThanTolerance', { mL, error, tolerance: settings.tolerance }]);
  }
  return facts;
}

function recordFacts(reading: Reading, circumstances: Circumstances): Fact[] {
  const { settings, weight } = circumstances;
  const { at, kind } = reading;
  const mL = sumOf([...reading.fills, reading.mL]);
  const facts: Fact[] = [];
  if (mL === 0) facts.push(['nothing', {}]);

  const earlier = [...circumstances.earlier].sort((one, other) => one.at - other.at);
  const later = earlier.findLast((each) => each.at > at);
  if (later !== undefined) {
    facts.push(['beforeLast', { minutes: Math.ceil((later.at - at) / 60_000) }]);
  }
  const past = earlier.filter((each) => each.at <= at);
  const near = settings.sameAgainMinutes * 60_000;
  const twin = past.findLast((each) => each.mL === mL && at - each.at <= near);
  if (twin !== undefined) {
    facts.push(['sameAgain', { mL, minutes: Math.floor((at - twin.at) / 60_000) }]);
  }

  if (kind === 'ostomy') {
    const today = past.filter((each) => each.at > at - 24 * hour);
    const day = sumOf([...today.map((each) => each.mL), mL]);
    if (day >= settings.ostomyDayLimit) {
      facts.push(['overOstomyDay', { day, limit: settings.ostomyDayLimit }]);
    }
  }

  const last = past.at(-1);
  if (last === undefined || last.at === at) return facts;
  const ms = at - last.at;
  const rate = perHour(mL, ms);
  const hours = Math.floor((10 * ms) / hour) / 10;
  // A rate over a few minutes says nothing.
  if (hours > 0) facts.push(['sinceLast', { mL, hours, rate }]);
  if (urine.includes(kind) && ms >= settings.rateHours * hour) {
    const limit = settings.perHourLimit;
    if (isUnderPerHour(mL, ms, limit)) facts.push(['under30PerHour', { mL, hours, rate, limit }]);
    if (weight !== null && isUnderPerKg(mL, weight, ms, settings.perKgTenths)) {
      const perKg = perKgHour(mL, weight, ms);
      const kg = weight / 1000;
      facts.push(['underHalfPerKg', { mL, hours, perKg, kg, limit: settings.perKgTenths / 10 }]);
    }
  }
  const own = ownRate(past, settings.ownRateIntervals);
  // Whole numbers on both sides, as with every limit.
  if (own !== null && mL * own.ms > settings.ownRateTimes * own.mL * ms) {
    const usual = perHour(own.mL, own.ms);
    facts.push(['farAboveOwnRate', { mL, hours, rate, usual, times: settings.ownRateTimes }]);
  }
  return facts;
}

/** The mean of the last intervals: what came after the first of them, over their time. */
function ownRate(
  past: readonly Earlier[],
  intervals: number,
): { mL: Millilitres; ms: number } | null {
  const recent = past.slice(-(intervals + 1));
  const [first] = recent;
  const last = recent.at(-1);
  if (recent.length <= intervals || first === undefined || last === undefined) return null;
  const ms = last.at - first.at;
  return ms === 0 ? null : { mL: sumOf(recent.slice(1).map(({ mL }) => mL)), ms };
}

function soundFacts({ mL, soundAlike }: Reading): Fact[] {
  const partners = soundAlike.map((other, index) => [`partner${index + 1}`, other] as const);
  return partners.length === 0 ? [] : [['soundAlike', { mL, ...Object.fromEntries(partners) }]];
}
