import { Temporal } from 'temporal-polyfill';
import { beforeAll, describe, expect, test } from 'vitest';
import { digest } from '../../../tests/support/ledgerStory.ts';
import { foldAlert, type Alert } from '../../charting/alert.ts';
import { verifyChains } from '../../charting/chain.ts';
import type { Entry } from '../../charting/entry.ts';
import type { LedgerEvent } from '../../charting/events.ts';
import { parseEvent } from '../../charting/eventSchema.ts';
import { foldEntry } from '../../charting/fold.ts';
import { strictRules } from '../../charting/reviewRules.ts';
import { dayOf } from '../../charting/shifts.ts';
import { MemoryLedger } from '../../storage/memoryLedger.ts';
import { againstOf } from '../standing.ts';
import { demoUnit } from './demoUnit.ts';
import { demoZone, lastChange } from './demoZone.ts';
import { fillWing } from './fillWing.ts';

const hour = 3_600_000;
const instants: readonly (readonly [string, string, number])[] = [
  ['an afternoon in autumn, far from a change', 'Europe/Berlin', Date.UTC(2026, 10, 25, 15)],
  ['half an hour after midnight', 'Europe/Berlin', Date.UTC(2026, 5, 9, 22, 30)],
  ['the day after the clocks went on', 'America/New_York', Date.UTC(2026, 2, 9, 16)],
  ['the night in which they go back', 'Europe/Berlin', Date.UTC(2026, 9, 25, 6)],
  ['a zone whose clocks stand', 'UTC', Date.UTC(2026, 6, 1, 9)],
];

interface Filled {
  readonly events: readonly LedgerEvent[];
  readonly entries: readonly Entry[];
  readonly alerts: readonly Alert[];
  readonly zone: string;
}

async function filled(own: string, now: number): Promise<Filled> {
  const zone = demoZone(Temporal, own, now);
  const ledger = new MemoryLedger(() => strictRules);
  await fillWing({ ledger, digest, temporal: Temporal }, demoUnit(zone), now);
  const page = await ledger.read(null, 10_000);
  if (!page.ok) throw new Error(page.fault);
  const groups = async (kind: 'entry' | 'alert') => {
    const found = await ledger.groups({ kind });
    if (!found.ok) throw new Error(found.fault);
    return found.value;
  };
  return {
    zone,
    events: page.value.events,
    entries: (await groups('entry')).flatMap((some) => foldEntry(some, strictRules).entry ?? []),
    alerts: (await groups('alert')).flatMap((some) => foldAlert(some) ?? []),
  };
}

describe.each(instants)('When the demo wing is filled at %s', (_, own, now) => {
  let wing: Filled;
  beforeAll(async () => {
    wing = await filled(own, now);
  });

  test('every event has the form of the ledger, and the chains hold', async () => {
    const faults = wing.events.map((event) => parseEvent(JSON.parse(JSON.stringify(event))));
    expect(faults.filter(({ ok }) => !ok)).toEqual([]);
    expect(await verifyChains(wing.events, digest)).toEqual([]);
    expect(new Set(wing.events.map(({ device }) => device)).size).toBe(2);
  });

  test('the fold refuses nothing, and nothing lies in the future', () => {
    expect(wing.entries.flatMap(({ refused }) => refused)).toEqual([]);
    expect(wing.alerts.flatMap(({ refused }) => refused)).toEqual([]);
    expect(wing.events.filter(({ at }) => at.ms > now)).toEqual([]);
  });

  test('all that a reviewer has to handle is there', () => {
    const { lateAfter } = demoUnit(wing.zone);
    const against = (entry: Entry) =>
      againstOf(entry, wing.alerts, lateAfter * 60_000).map(({ code }) => code);
    const count = (fits: (entry: Entry) => boolean) => wing.entries.filter(fits).length;
    const waits = ({ status }: Entry) => status === 'preliminary';
    const cases = {
      late: count((entry) => waits(entry) && against(entry).includes('late')),
      disputed: count(
        (entry) => waits(entry) && entry.amount !== null && against(entry).includes('disputed'),
      ),
      parked: count((entry) => waits(entry) && entry.draft.candidates.length > 1),
      told: count((entry) => waits(entry) && against(entry).includes('alert')),
      waitingUnmeasured: count((entry) => waits(entry) && entry.amount?.method === 'unmeasured'),
      estimated: count(({ amount }) => amount?.method === 'estimated'),
      plain: count((entry) => waits(entry) && against(entry).length === 0),
      struck: count(({ status }) => status === 'entered-in-error'),
      amended: count(({ status }) => status === 'amended'),
      confirmed: count(({ status }) => status === 'final'),
      undone: count(({ history }) => history.some(({ type }) => type === 'decision.undone')),
      weighedPad: count(({ draft }) => draft.evidence?.working?.code === 'weighedPad'),
      intake: count(({ kind }) => kind === 'oralFluid'),
      twoFills: count(({ amount }) => amount?.method === 'measured' && amount.fills.length > 1),
      openAlert: wing.alerts.filter(({ taken }) => taken === null).length,
      takenAlert: wing.alerts.filter(({ taken }) => taken !== null).length,
    };
    expect(Object.entries(cases).filter(([, found]) => found === 0)).toEqual([]);
  });

  test('a day of 23 or 25 hours has readings on both sides of the change', () => {
    const { plan } = demoUnit(wing.zone);
    const change = lastChange(Temporal, wing.zone, now) ?? 0;
    const day = dayOf(Temporal, plan, change);
    expect([23, 25]).toContain((day.to - day.from) / hour);
    const read = wing.entries.flatMap(({ readAt }) => readAt ?? []);
    const near = read.filter(({ ms }) => Math.abs(ms - change) < hour);
    expect(near.some(({ ms }) => ms < change) && near.some(({ ms }) => ms > change)).toBe(true);
    expect(new Set(near.map(({ offset }) => offset)).size).toBe(2);
  });

  test('the same moment makes the same record', async () => {
    expect((await filled(own, now)).events).toEqual(wing.events);
  });
});
