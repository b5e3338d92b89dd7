import { describe, expect, test } from 'vitest';
import { digest, newId } from '../../tests/support/ledgerStory.ts';
import { later, saidVolume, startWalk, walkInput } from '../../tests/support/walkBench.ts';
import { freshContext, type WalkContext } from '../conversation/walkContext.ts';
import { strictRules } from '../charting/reviewRules.ts';
import type { LedgerEvent } from '../charting/events.ts';
import type { Moment } from '../measure/moment.ts';
import type { Appended, Ledger, Result } from '../storage/ledger.ts';
import { MemoryLedger } from '../storage/memoryLedger.ts';
import { Recorder } from '../storage/recorder.ts';
import { WalkWriter } from './WalkWriter.ts';

const ids = { walk: newId(), entry: newId(), event: newId() };
const now: Moment = later(20);

/** A real recorder over a ledger in memory that refuses while it is told to. */
function desk() {
  const ledger = new MemoryLedger(() => strictRules);
  let refuses = false;
  let afterRead = (): Promise<unknown> => Promise.resolve();
  const moody: Ledger = {
    append: (events): Promise<Result<Appended>> =>
      refuses ? Promise.resolve({ ok: false, fault: 'storage_full' }) : ledger.append(events),
    groups: (query) => ledger.groups(query),
    group: async (id) => {
      const group = await ledger.group(id);
      await afterRead();
      return group;
    },
    countOpen: (kind) => ledger.countOpen(kind),
    tail: (device) => ledger.tail(device),
    read: (after, limit) => ledger.read(after, limit),
    count: () => ledger.count(),
    subscribe: (listener) => ledger.subscribe(listener),
  };
  const recorder = new Recorder({
    ledger: moody,
    device: newId(),
    digest,
    now: () => now,
    random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)),
    after: () => () => undefined,
  });
  const writer = new WalkWriter({ ledger: moody, recorder, role: () => 'aide' });
  const all = async () => {
    const page = await ledger.read(null, 100);
    return page.ok ? page.value.events : [];
  };
  return {
    writer,
    recorder,
    all,
    refuse: (value: boolean) => (refuses = value),
    /** Happens when the record was read, and before the reader has it. */
    whenRead: (happens: typeof afterRead) => (afterRead = happens),
  };
}

/** The context of a real walk to its end. */
async function finished(): Promise<WalkContext> {
  const walk = startWalk({ ids });
  await walk.command('next');
  await walk.volume(0, { soundAlike: [] });
  await walk.command('confirm', 'next', 'next');
  const [context] = walk.saved;
  if (context === undefined) throw new Error('the walk saved nothing');
  return context;
}

describe('When a walk is saved', () => {
  test('the entry has the time of the reading, kind, amount and initials, and what to tell', async () => {
    const { writer, all } = desk();
    expect(await writer.save(await finished())).toEqual(now);
    const events = await all();
    expect(events.map(({ type }) => type)).toEqual(['entry.drafted', 'alert.raised', 'walk.ended']);
    expect(events[0]).toMatchObject({
      entry: ids.entry,
      bed: 'Bed 4',
      kind: 'urineCatheter',
      amount: { method: 'measured', mL: 0, fills: [0] },
      readAt: later(3),
      reader: 'MK',
      at: now,
      evidence: { readBack: 'zero milliliters. Correct?', answer: 'confirm', tries: 1 },
    });
    expect(events[1]).toMatchObject({ code: 'nothing', entry: ids.entry, bed: 'Bed 4' });
  });

  test('saving again writes nothing and gives the first time', async () => {
    const { writer, all } = desk();
    const context = await finished();
    await writer.save(context);
    expect(await writer.save(context)).toEqual(now);
    expect(await all()).toHaveLength(3);
  });

  test('a device that refuses is told, and what waits in memory is not added twice', async () => {
    const { writer, recorder, all, refuse } = desk();
    const context = await finished();
    refuse(true);
    await expect(writer.save(context)).rejects.toThrow('storage_full');
    await expect(writer.save(context)).rejects.toThrow('storage_full');
    expect(recorder.state.unsaved).toHaveLength(3);
    refuse(false);
    expect(await writer.save(context)).toEqual(now);
    expect(await all()).toHaveLength(3);
  });
});

describe('When an alert is raised', () => {
  const context: WalkContext = {
    ...freshContext({ ...walkInput, ids }),
    alerts: [{ code: 'blood', words: 'there is blood', at: later(4), kept: false }],
  };

  test('it is told with the words said, once, and kept ones are not told again', async () => {
    const { writer, all } = desk();
    await writer.raise(context);
    await writer.raise({
      ...context,
      alerts: context.alerts.map((one) => ({ ...one, kept: true })),
    });
    expect(await all()).toMatchObject([{ type: 'alert.raised', code: 'blood', walk: ids.walk }]);
    const [told] = await all();
    expect(told?.type === 'alert.raised' && told.words).toContain('“there is blood”');
  });

  test('a device that refuses has it waiting in memory, once', async () => {
    const { writer, recorder, all, refuse } = desk();
    refuse(true);
    await expect(writer.raise(context)).rejects.toThrow('storage_full');
    await writer.raise(context);
    expect(recorder.state.unsaved).toHaveLength(1);
    refuse(false);
    await recorder.retry();
    expect(await all()).toHaveLength(1);
  });
});

describe('When an alert went into the record and the walk does not know it', () => {
  const context: WalkContext = {
    ...freshContext({ ...walkInput, ids }),
    alerts: [{ code: 'blood', words: 'there is blood', at: later(4), kept: false }],
  };
  const raisedIn = async (all: () => Promise<readonly LedgerEvent[]>) =>
    (await all()).flatMap((event) => (event.type === 'alert.raised' ? [event.words] : []));

  test('it goes in once, even after the device had refused it', async () => {
    const { writer, recorder, all, refuse } = desk();
    refuse(true);
    await expect(writer.raise(context)).rejects.toThrow('storage_full');
    refuse(false);
    await recorder.retry();
    await writer.raise(context);
    await writer.save({ ...(await finished()), alerts: context.alerts });
    expect((await raisedIn(all)).filter((words) => words.includes('blood'))).toHaveLength(1);
  });

  test('it goes in once, even where the recorder keeps it while it is sought in the record', async () => {
    const { writer, recorder, all, refuse, whenRead } = desk();
    refuse(true);
    await expect(writer.raise(context)).rejects.toThrow('storage_full');
    refuse(false);
    whenRead(() => recorder.retry());
    await writer.raise(context);
    expect(await raisedIn(all)).toHaveLength(1);
  });

  test('it goes in once, even where it is raised again before the first is through', async () => {
    const { writer, all } = desk();
    await Promise.all([writer.raise(context), writer.raise(context)]);
    expect(await raisedIn(all)).toHaveLength(1);
  });

  test('the next one, of a walk that came back without it, is not taken for it', async () => {
    const { writer, all } = desk();
    await writer.raise(context);
    const [first] = context.alerts;
    if (first === undefined) throw new Error('no alert');
    await writer.raise({ ...context, alerts: [{ ...first, code: 'pain', words: 'it hurts' }] });
    expect(await raisedIn(all)).toHaveLength(2);
  });
});

test('A parked walk is saved without an amount, with what it could have been', async () => {
  const { writer, all } = desk();
  const said = saidVolume(350);
  await writer.save({
    ...freshContext({ ...walkInput, ids }),
    parked: {
      outcome: 'parked',
      fills: [],
      candidates: said.candidates,
      readAt: later(3),
      findings: [],
      tries: 3,
      disputed: [said],
    },
  });
  expect((await all())[0]).toMatchObject({ amount: null, candidates: [350], readAt: later(3) });
});
