import type { Amount } from '../../charting/amount.ts';
import type { Author, EntryDrafted, Fact } from '../../charting/events.ts';
import type { Evidence } from '../../charting/evidence.ts';
import type { TemporalApi } from '../../charting/temporal.ts';
import { momentAt, momentOfWall } from '../../charting/wallClock.ts';
import type { Moment } from '../../measure/moment.ts';
import { millilitres } from '../../measure/volume.ts';
import { alerts } from '../../words/en-US/alerts.ts';
import { lastChange } from './demoZone.ts';
import type {
  DemoAlert,
  DemoAmount,
  DemoDecision,
  DemoEntry,
  DemoWhen,
  WingDays,
} from './wingDays.ts';

const minute = 60_000;

/** Ids of what the demo names by a key of its own. */
export interface DemoIds {
  /** The same id for the same name. */
  readonly of: (name: string) => string;
  /** The event that stands last for an entry, as the version that a decision sees. */
  readonly head: (key: string) => string;
}

/** Something that is written at a moment, by a person; its facts are made when all before stand. */
export interface Happening {
  readonly at: Moment;
  readonly by: Author;
  /** The entry whose version this changes, or null. */
  readonly key: string | null;
  /** On the tablet at the bed, or on the desk. */
  readonly on: 'tablet' | 'desk';
  readonly facts: (ids: DemoIds) => readonly Fact[];
}

export interface HappeningOptions {
  readonly temporal: TemporalApi;
  readonly zone: string;
  /** ms since the Unix epoch; nothing happens after it. */
  readonly now: number;
  readonly roster: readonly Author[];
}

/** Everything that happened on the wing before now, oldest first. */
export function happeningsOf(days: WingDays, options: HappeningOptions): readonly Happening[] {
  const { temporal, zone, now } = options;
  const moment = (ms: number) => momentAt(temporal, zone, ms);
  const at = (when: DemoWhen, minutes = 0) => moment(msOf(when, options) + minutes * minute);
  const by = (initials: string): Author => {
    const found = options.roster.find((author) => author.initials === initials);
    if (found === undefined) throw new Error(`demo_broken: ${initials} is not on the roster`);
    return { initials: found.initials, role: found.role };
  };
  const drafted = (entry: DemoEntry): Happening => ({
    at: at(entry.when, entry.recordedAfter ?? 4),
    by: by(entry.by),
    key: entry.key,
    on: 'tablet',
    facts: (ids) => draftFacts(entry, at(entry.when), ids),
  });
  const decided = (decision: DemoDecision): Happening => ({
    at: at(decision.when),
    by: by(decision.by),
    key: decision.on,
    on: 'desk',
    facts: (ids) => [decisionFact(decision, days, ids)],
  });
  const told = (alert: DemoAlert): Happening[] => [
    {
      at: at(alert.when),
      by: by(alert.by),
      key: null,
      on: 'tablet',
      facts: (ids) => [raisedFact(alert, ids)],
    },
    ...(alert.taken === undefined ? [] : [takenOf(alert, alert.taken)]),
  ];
  const takenOf = (alert: DemoAlert, taken: NonNullable<DemoAlert['taken']>): Happening => ({
    at: at(taken.when),
    by: by(taken.by),
    key: null,
    on: 'desk',
    facts: (ids) => [{ type: 'alert.taken', alert: ids.of(alertName(alert)), note: taken.note }],
  });
  return [
    ...days.entries.map(drafted),
    ...days.decisions.map(decided),
    ...days.alerts.flatMap(told),
  ]
    .filter((happening) => happening.at.ms <= now)
    .sort((one, other) => one.at.ms - other.at.ms);
}

function msOf(when: DemoWhen, { temporal, zone, now }: HappeningOptions): number {
  if ('ago' in when) return now - when.ago * minute;
  if ('afterChange' in when) {
    const change = lastChange(temporal, zone, now);
    if (change === null) throw new Error(`zone_still: the clocks of ${zone} never change`);
    return change + when.afterChange * minute;
  }
  const today = temporal.Instant.fromEpochMilliseconds(now).toZonedDateTimeISO(zone).toPlainDate();
  const date = today.subtract({ days: when.days }).toString();
  const wall = momentOfWall(temporal, zone, date, when.at);
  if (wall.ok) return wall.moment.ms;
  if (wall.fault === 'time_twice') return wall.choices[0].ms;
  // A time that the clocks jumped over that night: an hour later there is one.
  const later = momentOfWall(temporal, zone, date, laterBy(when.at));
  if (later.ok) return later.moment.ms;
  throw new Error(`demo_broken: no ${when.at} on ${date}`);
}

const laterBy = (time: string): string =>
  `${String((Number(time.slice(0, 2)) + 1) % 24).padStart(2, '0')}${time.slice(2)}`;

const alertName = ({ bed, code, words }: DemoAlert): string => `alert ${bed} ${code} ${words}`;

function draftFacts(entry: DemoEntry, readAt: Moment, ids: DemoIds): Fact[] {
  const walk = ids.of(`walk ${entry.key}`);
  const parked = 'parked' in entry.amount ? entry.amount.parked : [];
  const draft: EntryDrafted = {
    type: 'entry.drafted',
    entry: ids.of(entry.key),
    walk,
    bed: entry.bed,
    kind: entry.fluid,
    amount: amountOf(entry.amount),
    candidates: parked.map(millilitres),
    readAt,
    reader: entry.by,
    procedure: entry.procedure,
    container: entry.container ?? null,
    bag: entry.bag ?? null,
    evidence: evidenceOf(entry, readAt),
    note: '',
  };
  return [
    { type: 'walk.started', walk, procedure: entry.procedure, bed: entry.bed },
    draft,
    { type: 'walk.ended', walk, outcome: 'completed', reason: '' },
  ];
}

function amountOf(amount: DemoAmount): Amount | null {
  if ('parked' in amount) return null;
  if ('episodes' in amount) return { method: 'unmeasured', count: amount.episodes };
  const fills = (amount.fills ?? [amount.mL]).map(millilitres);
  return { method: amount.method ?? 'measured', mL: millilitres(amount.mL), fills };
}

function evidenceOf(entry: DemoEntry, readAt: Moment): Evidence {
  const last = entry.said.length - 1;
  return {
    heard: entry.said.map(([transcript, mL], index) => ({
      ear: entry.ear ?? 'bundled',
      at: readAt.ms - (last - index) * 12_000,
      alternatives: [{ transcript, confidence: entry.ear === 'typed' ? 1 : 0.9 }],
      fit: 'taken',
      made: mL === null ? null : millilitres(mL),
    })),
    readBack: entry.readBack,
    answer: entry.answer,
    tries: triesOf(entry),
    findings: entry.findings ?? [],
    looks: entry.looks ?? [],
    working: entry.working ?? null,
  };
}

/** Fills and servings are parts of one try; any other number that was said is a try of its own. */
function triesOf({ amount, said, working }: DemoEntry): number {
  if (working !== undefined || ('mL' in amount && amount.fills !== undefined)) return 1;
  return Math.max(1, said.length);
}

function decisionFact({ on, act }: DemoDecision, days: WingDays, ids: DemoIds): Fact {
  const decision = { entry: ids.of(on), saw: ids.head(on) };
  if ('confirm' in act) return { type: 'entry.confirmed', ...decision };
  if ('undo' in act) return { type: 'decision.undone', ...decision, undoes: decision.saw };
  if ('strike' in act) return { type: 'entry.struck', ...decision, reason: act.strike };
  const was = amountOf(days.entries.find(({ key }) => key === on)?.amount ?? { parked: [] });
  const mL = millilitres(act.amendTo);
  const is: Amount = { method: 'measured', mL, fills: [mL] };
  return {
    type: 'entry.amended',
    ...decision,
    changes: { amount: { was, is } },
    reason: act.reason,
  };
}

function raisedFact(alert: DemoAlert, ids: DemoIds): Fact {
  const { bed, code, words, on } = alert;
  return {
    type: 'alert.raised',
    alert: ids.of(alertName(alert)),
    code,
    words: `${alerts[code].tell(bed)} (“${words}”)`,
    bed,
    walk: on === undefined ? null : ids.of(`walk ${on}`),
    entry: null,
  };
}
