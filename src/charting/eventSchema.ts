import * as v from 'valibot';
import { fluidKinds, type FluidKind } from '../measure/fluid.ts';
import { isMillilitres, type Millilitres } from '../measure/volume.ts';
import { ledgerVersion, type LedgerEvent } from './events.ts';
import { isUuid } from './uuid.ts';

// What comes from a file is foreign text: every field has a shape and a longest length.
const line = v.pipe(v.string(), v.maxLength(200));
const prose = v.pipe(v.string(), v.maxLength(4_000));
const reason = v.pipe(prose, v.regex(/\S/u));
const ms = v.pipe(v.number(), v.safeInteger(), v.minValue(0), v.maxValue(8.64e15));
const uuid = v.pipe(v.string(), v.check(isUuid));
const hash = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/));
const initials = v.pipe(v.string(), v.minLength(1), v.maxLength(8));
const mL = v.custom<Millilitres>(isMillilitres);
const kind = v.custom<FluidKind>((it) => typeof it === 'string' && Object.hasOwn(fluidKinds, it));
// UTC offsets in use lie from -12:00 to +14:00.
const offset = v.pipe(v.number(), v.integer(), v.minValue(-720), v.maxValue(840));
const moment = v.strictObject({ ms, offset });

const amount = v.variant('method', [
  v.pipe(
    v.strictObject({
      method: v.picklist(['measured', 'estimated']),
      mL,
      fills: v.pipe(v.array(mL), v.minLength(1), v.maxLength(100)),
    }),
    v.check((it) => it.fills.reduce((sum, fill) => sum + fill, 0) === it.mL),
  ),
  v.strictObject({
    method: v.literal('unmeasured'),
    count: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(1_000)),
  }),
]);

const numbers = v.record(line, v.pipe(v.number(), v.finite()));
const evidence = v.strictObject({
  heard: v.array(
    v.strictObject({
      ear: line,
      at: ms,
      alternatives: v.array(v.strictObject({ transcript: prose, confidence: v.number() })),
      fit: v.picklist(['taken', 'doubtful', 'none']),
      made: v.nullable(mL),
    }),
  ),
  readBack: v.nullable(prose),
  answer: v.nullable(prose),
  tries: v.pipe(v.number(), v.integer(), v.minValue(0)),
  findings: v.array(v.strictObject({ code: line, numbers: v.exactOptional(numbers) })),
  looks: v.array(v.strictObject({ code: line, words: prose })),
  working: v.nullable(v.strictObject({ code: line, numbers })),
});

const base = {
  v: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(ledgerVersion)),
  id: uuid,
  device: uuid,
  seq: v.pipe(v.number(), v.safeInteger(), v.minValue(1)),
  prev: v.nullable(hash),
  hash,
  at: moment,
  by: v.strictObject({ initials, role: v.picklist(['aide', 'nurse', 'setup']) }),
};
const decision = { ...base, entry: uuid, saw: uuid };
const changeOf = <T extends v.GenericSchema>(is: T) =>
  v.exactOptional(v.strictObject({ was: v.nullable(is), is }));

/** The shape of one ledger event, exact: an unknown field or type is a fault. */
const eventSchema = v.variant('type', [
  v.strictObject({
    ...base,
    type: v.literal('entry.drafted'),
    entry: uuid,
    walk: v.nullable(uuid),
    bed: v.nullable(line),
    kind: v.nullable(kind),
    amount: v.nullable(amount),
    candidates: v.pipe(v.array(mL), v.maxLength(20)),
    readAt: v.nullable(moment),
    reader: v.nullable(initials),
    procedure: v.nullable(line),
    container: v.nullable(line),
    bag: v.nullable(line),
    evidence: v.nullable(evidence),
    note: prose,
  }),
  v.strictObject({ ...decision, type: v.literal('entry.confirmed') }),
  v.strictObject({
    ...decision,
    type: v.literal('entry.amended'),
    changes: v.strictObject({
      amount: changeOf(amount),
      kind: changeOf(kind),
      readAt: changeOf(moment),
      bed: changeOf(line),
      reader: changeOf(initials),
    }),
    reason,
  }),
  v.strictObject({ ...decision, type: v.literal('entry.struck'), reason }),
  v.strictObject({ ...decision, type: v.literal('decision.undone'), undoes: uuid }),
  v.strictObject({ ...base, type: v.literal('entry.viewed'), entry: uuid }),
  v.strictObject({
    ...base,
    type: v.literal('page.viewed'),
    page: v.picklist(['queue', 'sheet', 'wing', 'handover', 'export', 'search']),
    bed: v.nullable(line),
  }),
  v.strictObject({
    ...base,
    type: v.literal('alert.raised'),
    alert: uuid,
    code: line,
    words: prose,
    bed: v.nullable(line),
    walk: v.nullable(uuid),
    entry: v.nullable(uuid),
  }),
  v.strictObject({ ...base, type: v.literal('alert.taken'), alert: uuid, note: prose }),
  v.strictObject({
    ...base,
    type: v.literal('walk.started'),
    walk: uuid,
    procedure: line,
    bed: v.nullable(line),
  }),
  v.strictObject({
    ...base,
    type: v.literal('walk.ended'),
    walk: uuid,
    outcome: v.picklist(['completed', 'abandoned']),
    reason: prose,
  }),
  v.strictObject({
    ...base,
    type: v.literal('lock.noted'),
    what: v.picklist(['unlocked', 'locked', 'refused', 'recovered']),
    tries: v.exactOptional(v.pipe(v.number(), v.safeInteger(), v.minValue(1))),
    lastTry: v.exactOptional(moment),
  }),
]);

export type EventFault = 'event_malformed' | 'version_newer';

export type ParsedEvent =
  | { readonly ok: true; readonly event: LedgerEvent }
  | {
      readonly ok: false;
      readonly fault: EventFault;
      /** Where in the event it is wrong: `amount.mL`. Empty for the whole. */
      readonly field: string;
    };

/** Take foreign data for a ledger event if it is one, to the last field. */
export function parseEvent(data: unknown): ParsedEvent {
  const version = v.safeParse(v.looseObject({ v: v.number() }), data);
  if (version.success && version.output.v > ledgerVersion) {
    return { ok: false, fault: 'version_newer', field: 'v' };
  }
  const parsed = v.safeParse(eventSchema, data, { abortEarly: true });
  if (parsed.success) return { ok: true, event: parsed.output };
  return { ok: false, fault: 'event_malformed', field: v.getDotPath(parsed.issues[0]) ?? '' };
}
