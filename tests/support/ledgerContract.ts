import { beforeEach, describe, expect, test } from 'vitest';
import type { LedgerEvent } from '../../src/charting/events.ts';
import type { GroupQuery, Ledger } from '../../src/storage/ledger.ts';
import { aide, at, draftFact, newId, nurse, ordersOf, Pen, storyStart } from './ledgerStory.ts';

const hour = 3_600_000;

/** What every adapter of the ledger port keeps to. `setup` gives an empty ledger. */
export function runLedgerContract(name: string, setup: () => Promise<Ledger>): void {
  describe(`When events are kept: ${name}`, () => {
    let ledger: Ledger;
    let pen: Pen;
    beforeEach(async () => {
      ledger = await setup();
      pen = new Pen(storyStart + 12 * hour);
    });

    const append = (...events: readonly LedgerEvent[]) => ledger.append(events);
    const idsOf = async (query: GroupQuery) => {
      const found = await ledger.groups(query);
      if (!found.ok) throw new Error(found.fault);
      return found.value.map(([first]) => (first?.type === 'entry.drafted' ? first.entry : ''));
    };
    const draft = (bed: string | null, ms: number) =>
      pen.write(aide, draftFact({ bed, readAt: at(ms) }));

    test('an empty ledger has nothing, and says so', async () => {
      expect(await ledger.count()).toEqual({ ok: true, value: 0 });
      expect(await ledger.tail(pen.device)).toEqual({ ok: true, value: null });
      expect(await ledger.group(newId())).toEqual({ ok: true, value: [] });
      expect(await ledger.groups({ kind: 'entry' })).toEqual({ ok: true, value: [] });
      expect(await ledger.read(null, 10)).toEqual({ ok: true, value: { events: [], next: null } });
      expect(await append()).toEqual({ ok: true, value: { added: 0, known: 0 } });
    });

    test('an event comes back as it went in, by its group', async () => {
      const event = await pen.write(aide, draftFact({ note: 'Ärmel — ½ "quoted" \u2028' }));
      await append(event);
      expect(await ledger.group(event.entry)).toEqual({ ok: true, value: [event] });
    });

    test('sending twice changes nothing', async () => {
      const event = await pen.write(aide, draftFact());
      expect(await append(event)).toEqual({ ok: true, value: { added: 1, known: 0 } });
      expect(await append(event, event)).toEqual({ ok: true, value: { added: 0, known: 2 } });
      expect(await ledger.count()).toEqual({ ok: true, value: 1 });
    });

    test('an event that comes twice in one append is kept once', async () => {
      const event = await pen.write(aide, draftFact());
      expect(await append(event, event)).toEqual({ ok: true, value: { added: 1, known: 1 } });
    });

    test('a kept event is never replaced, and what came with the other one is not kept', async () => {
      const event = await pen.write(aide, draftFact());
      const fresh = await pen.write(aide, draftFact());
      await append(event);
      expect(await append(fresh, { ...event, by: nurse })).toEqual({
        ok: false,
        fault: 'event_differs',
      });
      expect(await ledger.group(event.entry)).toEqual({ ok: true, value: [event] });
      expect(await ledger.count()).toEqual({ ok: true, value: 1 });
    });

    test('a place in a chain is given once, and all or nothing is kept', async () => {
      const event = await pen.write(aide, draftFact());
      await append(event);
      const twin = { ...(await pen.write(aide, draftFact())), seq: event.seq };
      const good = await new Pen().write(aide, draftFact());
      expect(await append(good, twin)).toEqual({ ok: false, fault: 'chain_forked' });
      expect(await ledger.count()).toEqual({ ok: true, value: 1 });
      expect(await ledger.group(good.entry)).toEqual({ ok: true, value: [] });
    });

    test('the tail is the last event of that device only', async () => {
      await append(await pen.write(aide, draftFact()), await pen.write(aide, draftFact()));
      await append(await new Pen().write(aide, draftFact()));
      expect(await ledger.tail(pen.device)).toEqual({ ok: true, value: pen.tail });
    });

    test('a span has its first instant and not its last', async () => {
      const times = [0, 1, 2].map((n) => storyStart + n * hour);
      const drafts = [];
      for (const ms of times) drafts.push(await draft('Bed 1', ms));
      await append(...drafts.toReversed());
      const span = { from: storyStart, to: storyStart + 2 * hour };
      expect(await idsOf({ kind: 'entry', span })).toEqual(
        drafts.slice(0, 2).map(({ entry }) => entry),
      );
    });

    test('a bed has its own, by time of reading, limited where asked', async () => {
      const late = await draft('Bed 1', storyStart + hour);
      const early = await draft('Bed 1', storyStart);
      const other = await draft('Bed 10', storyStart);
      await append(late, early, other);
      expect(await idsOf({ kind: 'entry', bed: 'Bed 1' })).toEqual([early.entry, late.entry]);
      expect(await idsOf({ kind: 'entry', bed: 'Bed 1', limit: 1 })).toEqual([early.entry]);
    });

    test('what waits is found until it is decided, by bed and span too', async () => {
      const first = await draft('Bed 1', storyStart);
      const second = await draft('Bed 2', storyStart + hour);
      await append(first, second);
      expect(await ledger.countOpen('entry')).toEqual({ ok: true, value: 2 });
      expect(await idsOf({ kind: 'entry', open: true, bed: 'Bed 2' })).toEqual([second.entry]);
      await append(
        await pen.write(nurse, { type: 'entry.confirmed', entry: first.entry, saw: first.id }),
      );
      expect(await idsOf({ kind: 'entry', open: true })).toEqual([second.entry]);
      expect(await ledger.countOpen('entry')).toEqual({ ok: true, value: 1 });
      expect(
        await idsOf({ kind: 'entry', open: true, span: { from: 0, to: storyStart + hour } }),
      ).toEqual([]);
    });

    test('an entry that is amended to another bed and time is found there, and only there', async () => {
      const event = await draft('Bed 1', storyStart);
      const moved = await pen.write(nurse, {
        type: 'entry.amended',
        entry: event.entry,
        saw: event.id,
        reason: 'wrong bed',
        changes: {
          bed: { was: 'Bed 1', is: 'Bed 2' },
          readAt: { was: at(storyStart), is: at(storyStart - hour) },
        },
      });
      await append(event);
      await append(moved);
      expect(await idsOf({ kind: 'entry', bed: 'Bed 1' })).toEqual([]);
      const span = { from: storyStart - hour, to: storyStart };
      expect(await idsOf({ kind: 'entry', bed: 'Bed 2', span })).toEqual([event.entry]);
    });

    test('events in any order, alone or together, end in the same', async () => {
      const event = await draft('Bed 1', storyStart);
      const confirmed = await pen.write(nurse, {
        type: 'entry.confirmed',
        entry: event.entry,
        saw: event.id,
      });
      const viewed = await pen.write(nurse, { type: 'entry.viewed', entry: event.entry });
      for (const order of ordersOf<LedgerEvent>([event, confirmed, viewed])) {
        const one = await setup();
        for (const it of order) await one.append([it]);
        const other = await setup();
        await other.append(order);
        for (const each of [one, other]) {
          expect(await each.group(event.entry)).toEqual({
            ok: true,
            value: [event, confirmed, viewed],
          });
          expect(await each.countOpen('entry')).toEqual({ ok: true, value: 0 });
        }
      }
    });

    test('alerts and walks wait until they are taken and ended', async () => {
      const alert = newId();
      const walk = newId();
      await append(
        await pen.write(aide, {
          type: 'alert.raised',
          alert,
          code: 'blood_seen',
          words: 'Tell the nurse: blood seen.',
          bed: 'Bed 3',
          walk,
          entry: null,
        }),
        await pen.write(aide, { type: 'walk.started', walk, procedure: 'drainage-bag', bed: null }),
      );
      const open = async () => [
        (await ledger.countOpen('alert')).ok &&
          (await ledger.groups({ kind: 'alert', open: true })),
        await ledger.countOpen('walk'),
      ];
      expect(await open()).toMatchObject([{ value: [[{ alert }]] }, { value: 1 }]);
      await append(
        await pen.write(nurse, { type: 'alert.taken', alert, note: '' }),
        await pen.write(aide, { type: 'walk.ended', walk, outcome: 'completed', reason: '' }),
      );
      expect(await open()).toMatchObject([{ value: [] }, { value: 0 }]);
    });

    test('it is read whole in parts, chain by chain', async () => {
      const other = new Pen();
      const mine = [await draft('Bed 1', storyStart), await draft('Bed 1', storyStart)];
      const theirs = [await other.write(aide, draftFact()), await other.write(aide, draftFact())];
      await append(...mine.toReversed(), ...theirs.toReversed());
      const parts: (readonly LedgerEvent[])[] = [];
      let after: { device: string; seq: number } | null = null;
      do {
        const page = await ledger.read(after, 3);
        if (!page.ok) throw new Error(page.fault);
        parts.push(page.value.events);
        after = page.value.next;
      } while (after !== null);
      const expected = pen.device < other.device ? [...mine, ...theirs] : [...theirs, ...mine];
      expect(parts.flat()).toEqual(expected);
      expect(parts.map((part) => part.length)).toEqual([3, 1]);
    });

    test('who subscribed is told of what grew, until they leave', async () => {
      const told: (readonly string[])[] = [];
      const leave = ledger.subscribe((groups) => told.push(groups));
      const event = await pen.write(aide, draftFact());
      await append(event);
      await append(event);
      leave();
      await append(await pen.write(aide, draftFact()));
      expect(told).toEqual([[event.entry]]);
    });

    test('appends at the same time are all kept', async () => {
      const events = [];
      for (let n = 0; n < 20; n += 1) events.push(await pen.write(aide, draftFact()));
      const done = await Promise.all(events.map((event) => ledger.append([event])));
      expect(done.every(({ ok }) => ok)).toBe(true);
      expect(await ledger.count()).toEqual({ ok: true, value: 20 });
    });
  });
}
