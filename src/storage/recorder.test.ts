import { describe, expect, test } from 'vitest';
import {
  aide,
  at,
  digest,
  draftFact,
  newId,
  nurse,
  storyStart,
} from '../../tests/support/ledgerStory.ts';
import { verifyChains } from '../charting/chain.ts';
import type { LedgerEvent } from '../charting/events.ts';
import { strictRules } from '../charting/reviewRules.ts';
import type { Ledger, StorageFault } from './ledger.ts';
import { MemoryLedger } from './memoryLedger.ts';
import { clockSlack, Recorder, retryWaits } from './recorder.ts';

function setup(store: Ledger = new MemoryLedger(() => strictRules), device = newId()) {
  let fault: StorageFault | null = null;
  let tailFault: StorageFault | null = null;
  let ms = storyStart;
  let count = 0;
  const timers: { wait: number; run: () => void }[] = [];
  const ledger = Object.assign(Object.create(store) as Ledger, {
    append: (events: readonly LedgerEvent[]) =>
      fault === null ? store.append(events) : Promise.resolve({ ok: false as const, fault }),
    tail: (of: string) =>
      tailFault === null
        ? store.tail(of)
        : Promise.resolve({ ok: false as const, fault: tailFault }),
  });
  const recorder = new Recorder({
    ledger,
    device,
    digest,
    now: () => at(ms),
    random: (bytes) => {
      count += 1;
      const some = new Uint8Array(bytes);
      new DataView(some.buffer).setUint32(bytes - 4, count);
      some.set(new TextEncoder().encode(device).subarray(device.length - 4), 2);
      return some;
    },
    after: (wait, run) => {
      const timer = { wait, run };
      timers.push(timer);
      return () => void timers.splice(timers.indexOf(timer), 1);
    },
  });
  return {
    recorder,
    store,
    timers,
    device,
    fail: (with_: StorageFault | null) => (fault = with_),
    failTail: (with_: StorageFault | null) => (tailFault = with_),
    move: (by: number) => (ms += by),
    all: async () => {
      const page = await store.read(null, 1_000);
      if (!page.ok) throw new Error(page.fault);
      return page.value.events;
    },
  };
}

describe('When a fact is recorded', () => {
  test('it is kept in the chain, with time, author and place', async () => {
    const { recorder, all, device } = setup();
    const first = await recorder.record(aide, [draftFact()]);
    const second = await recorder.record(nurse, [draftFact(), draftFact()]);
    expect([first.kept, second.kept]).toEqual(['stored', 'stored']);
    const events = await all();
    expect(events).toMatchObject([
      { seq: 1, prev: null, by: aide, device, at: at(storyStart) },
      { seq: 2, prev: events[0]?.hash, by: nurse },
      { seq: 3, prev: events[1]?.hash },
    ]);
    expect(await verifyChains(events, digest)).toEqual([]);
  });

  test('a page that comes back goes on with the chain', async () => {
    const before = setup();
    await before.recorder.record(aide, [draftFact()]);
    const after = setup(before.store, before.device);
    after.move(1);
    await after.recorder.record(aide, [draftFact()]);
    expect((await after.all()).map(({ seq }) => seq)).toEqual([1, 2]);
    expect(await verifyChains(await after.all(), digest)).toEqual([]);
  });

  test('facts recorded at the same time stand one after the other', async () => {
    const { recorder, all } = setup();
    await Promise.all(Array.from({ length: 10 }, () => recorder.record(aide, [draftFact()])));
    expect(await verifyChains(await all(), digest)).toEqual([]);
    expect(await all()).toHaveLength(10);
  });
});

describe('When the store refuses', () => {
  const faults: readonly StorageFault[] = [
    'storage_full',
    'storage_refused',
    'storage_blocked',
    'storage_closed',
    'storage_vanished',
    'storage_newer',
    'storage_failed',
    'not_writer',
  ];

  test.each(faults)('%s: the event stays in memory, is shown, and is kept later', async (fault) => {
    const { recorder, fail, all, timers } = setup();
    const seen: number[] = [];
    recorder.subscribe(({ unsaved }) => seen.push(unsaved.length));
    fail(fault);
    const recorded = await recorder.record(aide, [draftFact()]);
    expect(recorded).toMatchObject({ kept: 'memory', fault });
    expect(recorder.state).toMatchObject({ fault, unsaved: [{ seq: 1 }] });
    expect(await all()).toEqual([]);

    fail(null);
    timers[0]?.run();
    await recorder.retry();
    expect(recorder.state).toEqual({ unsaved: [], fault: null });
    expect(await all()).toHaveLength(1);
    expect(seen).toContain(1);
    expect(seen.at(-1)).toBe(0);
  });

  test('what follows waits behind it, and the chain stays whole', async () => {
    const { recorder, fail, all } = setup();
    fail('storage_full');
    await recorder.record(aide, [draftFact()]);
    await recorder.record(aide, [draftFact()]);
    expect(recorder.state.unsaved.map(({ seq }) => seq)).toEqual([1, 2]);
    fail(null);
    expect(await recorder.record(aide, [draftFact()])).toMatchObject({ kept: 'stored' });
    expect(await verifyChains(await all(), digest)).toEqual([]);
    expect(await all()).toHaveLength(3);
  });

  test('it waits longer each time, one timer at a time, and begins anew after success', async () => {
    const { recorder, fail, timers } = setup();
    fail('storage_full');
    await recorder.record(aide, [draftFact()]);
    const waits = [timers[0]?.wait];
    for (let tries = 0; tries < retryWaits.length + 1; tries += 1) {
      await recorder.retry();
      expect(timers).toHaveLength(1);
      waits.push(timers[0]?.wait);
    }
    expect(waits).toEqual([...retryWaits, 60_000, 60_000]);
    fail(null);
    await recorder.retry();
    expect(timers).toEqual([]);
    fail('storage_full');
    await recorder.record(aide, [draftFact()]);
    expect(timers[0]?.wait).toBe(retryWaits[0]);
    recorder.stop();
    expect(timers).toEqual([]);
    expect(recorder.state.unsaved).toHaveLength(1);
  });

  test('from the start, a chain of its own is begun', async () => {
    const { recorder, fail, failTail, all, device } = setup();
    fail('storage_refused');
    failTail('storage_refused');
    expect(await recorder.record(aide, [draftFact()])).toMatchObject({ kept: 'memory' });
    fail(null);
    await recorder.retry();
    const events = await all();
    expect(events).toMatchObject([{ seq: 1, prev: null }]);
    expect(events[0]?.device).not.toBe(device);
    expect(await verifyChains(events, digest)).toEqual([]);
  });
});

describe('When another tab wrote in the same chain', () => {
  test('the event is put into a chain of its own, and both are kept', async () => {
    const one = setup();
    const other = setup(one.store, one.device);
    await one.recorder.record(aide, [draftFact()]);
    await other.recorder.record(aide, [draftFact()]);
    other.move(10);
    await one.recorder.record(aide, [draftFact()]);
    expect(await other.recorder.record(nurse, [draftFact()])).toMatchObject({ kept: 'stored' });
    expect(await one.all()).toHaveLength(4);
    expect(await verifyChains(await one.all(), digest)).toEqual([]);
  });

  test('told to look again, it goes on with the same chain', async () => {
    const one = setup();
    const other = setup(one.store, one.device);
    await one.recorder.record(aide, [draftFact()]);
    await other.recorder.record(aide, [draftFact()]);
    one.move(10);
    one.recorder.lookAgain();
    await one.recorder.record(aide, [draftFact()]);
    expect((await one.all()).map(({ seq }) => seq)).toEqual([1, 2, 3]);
  });
});

describe('When the clock is wrong', () => {
  test('set back between two events: refused, the ledger untouched, until it was looked at', async () => {
    const { recorder, move, all } = setup();
    await recorder.record(aide, [draftFact()]);
    move(-clockSlack - 1);
    const early = draftFact({ readAt: at(storyStart - clockSlack - 1) });
    expect(await recorder.record(aide, [early])).toEqual({
      kept: 'refused',
      fault: 'clock_set_back',
    });
    expect(await all()).toHaveLength(1);
    expect(await recorder.record(aide, [early], true)).toMatchObject({ kept: 'stored' });
    expect(await verifyChains(await all(), digest)).toEqual([]);
  });

  test('a small correction is taken', async () => {
    const { recorder, move } = setup();
    await recorder.record(aide, [draftFact()]);
    move(-clockSlack);
    const early = draftFact({ readAt: at(storyStart - clockSlack) });
    expect(await recorder.record(aide, [early])).toMatchObject({ kept: 'stored' });
  });

  test.each([
    [60_000, 'stored'],
    [60_001, 'refused'],
  ])('a reading %d ms from now: %s', async (ahead, kept) => {
    const { recorder, all } = setup();
    const done = await recorder.record(aide, [draftFact({ readAt: at(storyStart + ahead) })]);
    expect(done.kept).toBe(kept);
    expect(await all()).toHaveLength(kept === 'stored' ? 1 : 0);
  });

  test('an amendment to a future time is refused with its code', async () => {
    const { recorder } = setup();
    const changes = { readAt: { was: at(storyStart), is: at(storyStart + 600_000) } };
    const fact = {
      type: 'entry.amended',
      entry: newId(),
      saw: newId(),
      reason: 'r',
      changes,
    } as const;
    expect(await recorder.record(nurse, [fact])).toEqual({
      kept: 'refused',
      fault: 'reading_in_future',
    });
  });
});

describe('When another tab went on with this device’s chain', () => {
  test('what was kept in memory goes behind it, in the same chain', async () => {
    const { recorder, store, device, fail, all } = setup();
    await recorder.record(aide, [draftFact()]);
    fail('not_writer');
    const waiting = await recorder.record(nurse, [draftFact(), draftFact()]);
    expect(waiting.kept).toBe('memory');
    const other = setup(store, device);
    await other.recorder.record(aide, [draftFact()]);
    fail(null);
    expect(await recorder.retry()).toEqual({ unsaved: [], fault: null });
    const events = await all();
    expect(events.map(({ seq, device: of }) => [of, seq])).toEqual(
      [1, 2, 3, 4].map((seq) => [device, seq]),
    );
    const ids = waiting.kept === 'memory' ? waiting.events.map(({ id }) => id) : [];
    expect(events.slice(2).map(({ id }) => id)).toEqual(ids);
    expect(await verifyChains(events, digest)).toEqual([]);
  });
});
