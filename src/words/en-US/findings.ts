import { amountText, digitByDigit, spelled } from './numbers.ts';

/** The figures that a finding rests on, by name; mL where the name says nothing else. */
type Figures = Readonly<Record<string, number>>;

interface FindingWords {
  /** What the voice says is so: one short sentence. */
  readonly said: (of: Figures) => string;
  /** What the voice asks for, where the unit lets it ask. */
  readonly asked: string;
  readonly screen: (of: Figures) => string;
  /** Figures and the source's own limit; no judgement. */
  readonly reviewer: (of: Figures) => string;
  readonly source: string;
}

const of = (figures: Figures, name: string): number => figures[name] ?? 0;
const mL = (figures: Figures, name = 'mL'): string => amountText(of(figures, name));
const say = (figures: Figures, name = 'mL'): string => spelled(Math.floor(of(figures, name)));
/** With a comma from 1,000 and no zero at its end: `1,020.5`. */
const decimal = (figures: Figures, name: string): string =>
  String(of(figures, name)).replace(/\B(?=(\d{3})+(?!\d))(?<!\.\d*)/g, ',');
const plural = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

const checkLine = 'Look again, and say the line.';
const ownChoice = 'our own choice; no published source';
const partners = (figures: Figures): number[] =>
  Object.keys(figures)
    .filter((name) => name.startsWith('partner'))
    .map((name) => of(figures, name));

/** What is said, shown and told to the reviewer for each finding. Limits, figures, sources only. */
export const findings = {
  aboveContainer: {
    said: (f) => `This container stops at ${say(f, 'capacity')}.`,
    asked: checkLine,
    screen: (f) => `${mL(f)} is above the top line, ${mL(f, 'capacity')}.`,
    reviewer: (f) => `Heard ${mL(f)}; the container's top line is ${mL(f, 'capacity')}.`,
    source: "the container's own top line",
  },
  aboveFill: {
    said: (f) => `Fill ${say(f, 'fill')} can not be more than ${say(f, 'capacity')}.`,
    asked: 'Say this fill alone.',
    screen: (f) => `Fill ${of(f, 'fill')}: ${mL(f)} is above the top line, ${mL(f, 'capacity')}.`,
    reviewer: (f) =>
      `Fill ${of(f, 'fill')} heard as ${mL(f)}; the container's top line is ${mL(f, 'capacity')}.`,
    source: "the container's own top line",
  },
  aboveBag: {
    said: (f) => `That is more than the bag holds, ${say(f, 'capacity')}.`,
    asked: checkLine,
    screen: (f) => `${mL(f)} is more than the bag holds, ${mL(f, 'capacity')}.`,
    reviewer: (f) => `${mL(f)} in all; the bag is listed at ${mL(f, 'capacity')}.`,
    source: "the bag's listed size",
  },
  betweenLines: {
    said: (f) => `That is between ${say(f, 'below')} and ${say(f, 'above')}.`,
    asked: 'Which line?',
    screen: (f) => `${mL(f)} is between the lines ${mL(f, 'below')} and ${mL(f, 'above')}.`,
    reviewer: (f) =>
      `Said ${mL(f)}, between the lines ${mL(f, 'below')} and ${mL(f, 'above')}; ` +
      `by the unit's rule ${mL(f, 'line')}.`,
    source: "the container's own lines; the rounding rule is the unit's setting",
  },
  nothing: {
    said: () => 'Nothing came.',
    asked: 'If it is zero, say it again.',
    screen: () => 'Zero is a reading. Tell the nurse that nothing came.',
    reviewer: () => 'A reading of 0 mL. See whether a nurse was told, and when.',
    source: 'home-care call list: nothing in 6 to 8 hours; report of a US federal survey, 2025',
  },
  under30PerHour: {
    said: (f) => `That is under ${say(f, 'limit')} an hour since the last emptying.`,
    asked: checkLine,
    screen: (f) =>
      `${mL(f)} in ${decimal(f, 'hours')} h is under ${of(f, 'limit')} mL/h since the last emptying.`,
    reviewer: (f) =>
      `${mL(f)} in ${decimal(f, 'hours')} h: ${decimal(f, 'rate')} mL/h. ` +
      `The unit's limit is ${of(f, 'limit')} mL/h over two hours and more.`,
    source: 'state university nursing-skills page: less than 30 mL/h over 2 h needs evaluation',
  },
  underHalfPerKg: {
    said: () => 'That is little for the weight on file.',
    asked: checkLine,
    screen: (f) => `${mL(f)} in ${decimal(f, 'hours')} h is under ${decimal(f, 'limit')} mL/kg/h.`,
    reviewer: (f) =>
      `${mL(f)} in ${decimal(f, 'hours')} h at ${decimal(f, 'kg')} kg: ` +
      `${decimal(f, 'perKg')} mL/kg/h. The unit's limit is ${decimal(f, 'limit')} mL/kg/h.`,
    source: 'London (Ontario) critical-care fluid-balance standard, rev. 2023; KDIGO 2012, Table 2',
  },
  farAboveOwnRate: {
    said: () => 'That is far more than before.',
    asked: checkLine,
    screen: (f) =>
      `${decimal(f, 'rate')} mL/h; the last emptyings made ${decimal(f, 'usual')} mL/h.`,
    reviewer: (f) =>
      `${decimal(f, 'rate')} mL/h; over the last emptyings ${decimal(f, 'usual')} mL/h. ` +
      `The unit's limit is ${of(f, 'times')} times.`,
    source: ownChoice,
  },
  overOstomyDay: {
    said: (f) => `That makes ${say(f, 'day')} in twenty four hours.`,
    asked: checkLine,
    screen: (f) => `${mL(f, 'day')} in the last 24 h; the unit tells from ${mL(f, 'limit')}.`,
    reviewer: (f) => `${mL(f, 'day')} in the last 24 h. The unit's limit is ${mL(f, 'limit')}.`,
    source: 'reviews of ileostomy output: limits of 1,000 to 2,000 mL in 24 h; a setting',
  },
  sameAgain: {
    said: (f) =>
      `The same amount was charted ${spelled(of(f, 'minutes'))} ` +
      `${of(f, 'minutes') === 1 ? 'minute' : 'minutes'} ago.`,
    asked: 'If this is a new emptying, say it again.',
    screen: (f) => `${mL(f)} was charted ${plural(of(f, 'minutes'), 'minute')} ago too.`,
    reviewer: (f) =>
      `The same amount, ${mL(f)}, stands ${plural(of(f, 'minutes'), 'minute')} earlier.`,
    source: ownChoice,
  },
  beforeLast: {
    said: () => 'A later reading is in the record.',
    asked: 'If this one is new, say it again.',
    screen: (f) => `A reading ${plural(of(f, 'minutes'), 'minute')} later is in the record.`,
    reviewer: (f) =>
      `Read ${plural(of(f, 'minutes'), 'minute')} before another reading of this bed. ` +
      'Compare the clocks.',
    source: ownChoice,
  },
  sinceLast: {
    said: (f) => `About ${say(f, 'rate')} an hour since the last emptying.`,
    asked: checkLine,
    screen: (f) => `${decimal(f, 'hours')} h since the last emptying.`,
    reviewer: (f) =>
      `${decimal(f, 'hours')} h since the last emptying: ${decimal(f, 'rate')} mL/h.`,
    source: 'arithmetic',
  },
  overFillMark: {
    said: () => 'The bag was over its fill mark.',
    asked: checkLine,
    screen: (f) => `The bag held ${mL(f)}; the unit empties at ${mL(f, 'mark')}.`,
    reviewer: (f) =>
      `${mL(f)} in a bag of ${mL(f, 'capacity')}; the unit's fill mark is ${mL(f, 'mark')}.`,
    source:
      'the mark is the unit’s setting: half, two-thirds (teaching), three-quarters (NSW 2021)',
  },
  vesselErrorWiderThanTolerance: {
    said: () => 'At this level the container itself is not exact.',
    asked: checkLine,
    screen: (f) => `At ${mL(f)} this container may be off by ${decimal(f, 'error')} mL either way.`,
    reviewer: (f) =>
      `At ${mL(f)} the marks may be off by ${decimal(f, 'error')} mL, as printed; ` +
      `the tolerance is ${of(f, 'tolerance')} mL.`,
    source: 'GSA Commercial Item Description A-A-51059; NNAAP tolerance',
  },
  soundAlike: {
    said: (f) => `${say(f)}: ${digitByDigit(of(f, 'mL'))}.`,
    asked: 'If that is the number, say it again.',
    screen: (f) => `${mL(f)} sounds like ${partners(f).map(amountText).join(' or ')}.`,
    reviewer: (f) =>
      `${mL(f)} sounds like ${partners(f).map(amountText).join(' or ')}; digits were read back.`,
    source: 'Pennsylvania patient-safety advisory, June 2006; ISMP, 24 Jan 2001',
  },
} as const satisfies Record<string, FindingWords>;

export type SayableFinding = keyof typeof findings;

/** What the voice says for one finding: a fact with a question, or with "tell the nurse", or nothing. */
export function findingVoice(
  code: SayableFinding,
  severity: 'ask' | 'tell' | 'note',
  figures: Figures,
): string {
  if (severity === 'note') return '';
  const words: FindingWords = findings[code];
  return `${words.said(figures)} ${severity === 'ask' ? words.asked : 'Tell the nurse.'}`;
}

/** The definitions that a span of output meets, as the reviewer reads them beside the figures. */
export const definitions = {
  halfPerKgSixHours: 'Under 0.5 mL/kg/h for 6 hours and more (KDIGO 2012, Table 2; mean rate).',
  halfPerKgTwelveHours: 'Under 0.5 mL/kg/h for 12 hours and more (KDIGO 2012, Table 2; mean rate).',
  thirdPerKgDay: 'Under 0.3 mL/kg/h for 24 hours and more (KDIGO 2012, Table 2; mean rate).',
  noneTwelveHours: 'None for 12 hours and more (KDIGO 2012, Table 2).',
  under400Day: 'Under 400 mL in 24 hours (university cross-cover guide; other texts say 500 mL).',
  over3000Day: 'Over 3,000 mL, or over 50 mL/kg, in 24 hours (open nursing textbook).',
} as const;
