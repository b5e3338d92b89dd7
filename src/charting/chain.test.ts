import { beforeAll, describe, expect, test } from 'vitest';
import { aide, digest, draftFact, nurse, Pen } from '../../tests/support/ledgerStory.ts';
import { ChainCheck, hashOf, sealFacts, verifyChains } from './chain.ts';
import type { LedgerEvent } from './events.ts';

let events: LedgerEvent[];
let other: LedgerEvent[];

beforeAll(async () => {
  const pen = new Pen();
  events = [];
  for (let n = 0; n < 5; n += 1) events.push(await pen.write(aide, draftFact()));
  const second = new Pen();
  other = [await second.write(nurse, draftFact()), await second.write(nurse, draftFact())];
});

const faults = async (list: readonly LedgerEvent[]) =>
  (await verifyChains(list, digest)).map(({ code, seq }) => [code, seq]);

const swapped = (list: readonly LedgerEvent[], one: number, two: number): LedgerEvent[] =>
  list.map((event, place) => list[place === one ? two : place === two ? one : place] ?? event);

const edited = (place: number, over: Partial<LedgerEvent>) =>
  events.map((event, n) => (n === place ? ({ ...event, ...over } as LedgerEvent) : event));

describe('When a record is verified', () => {
  test('what was sealed is intact, devices mixed or not', async () => {
    expect(await faults(events)).toEqual([]);
    expect(await faults([...events.slice(0, 2), ...other, ...events.slice(2)])).toEqual([]);
  });

  test('an edited event is named', async () => {
    expect(await faults(edited(2, { by: { initials: 'XX', role: 'aide' } }))).toEqual([
      ['event_edited', 3],
    ]);
  });

  test('an event edited and given a fitting hash breaks the next', async () => {
    const [, , third] = events;
    if (third === undefined) throw new Error('story too short');
    const forged = { ...third, by: { initials: 'XX', role: 'aide' as const } };
    const hash = await hashOf(forged, digest);
    expect(await faults(edited(2, { ...forged, hash }))).toEqual([['event_replaced', 4]]);
  });

  test('an event that can not be opened is named, and the ones after it are looked at', async () => {
    const [first, , third, fourth, fifth] = events;
    if (!first || !third || !fourth || !fifth) throw new Error('story too short');
    const check = new ChainCheck(digest);
    await check.add(first);
    check.addUnreadable(first.device, 2);
    await check.add(third);
    await check.add(fifth);
    expect(check.faults).toEqual([
      { code: 'event_edited', device: first.device, seq: 2, id: null },
      { code: 'event_missing', device: first.device, seq: 4, id: null },
    ]);
  });

  test.each([
    [0, 1],
    [2, 3],
  ])('a removed event is named: place %d', async (place, seq) => {
    expect(await faults(events.filter((_, n) => n !== place))).toEqual([['event_missing', seq]]);
  });

  test('a removed end is seen by where the chain ends', async () => {
    const check = new ChainCheck(digest);
    for (const event of events.slice(0, 4)) await check.add(event);
    expect(check.faults).toEqual([]);
    expect(check.ends().get(events[0]?.device ?? '')?.seq).toBe(4);
  });

  test('events in another order are named', async () => {
    expect(await faults(swapped(events, 2, 3))).toEqual([
      ['event_missing', 3],
      ['event_reordered', 3],
    ]);
  });

  test('two events in one place are named', async () => {
    const [first] = events;
    if (first === undefined) throw new Error('story too short');
    const fork = await sealFacts(
      first.device,
      null,
      [{ id: first.id, at: first.at, by: nurse, fact: draftFact() }],
      digest,
    );
    expect(await faults([first, ...fork])).toEqual([['event_forked', 1]]);
  });
});
