import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { LocksInMemory } from '../../../tests/support/locks.ts';
import { draftFact } from '../../../tests/support/ledgerStory.ts';
import type { Author } from '../../charting/events.ts';
import { TypedEar } from '../../speech/typed/TypedEar.ts';
import type { Voice } from '../../speech/voice.ts';
import { plainCipher } from '../../storage/cipher.ts';
import type { OpenVault } from '../../storage/vault/vault.ts';
import { choiceFor } from '../choiceFor.ts';
import { Desk } from '../Desk.svelte.ts';
import { openStores } from '../storage.ts';
import type { LockWork } from './lockWork.ts';
import { Tabs } from './Tabs.svelte.ts';
import { UnitLock } from './UnitLock.svelte.ts';

// A busy machine takes its time to read all grammars.
vi.setConfig({ testTimeout: 60_000 });

const aide: Author = { initials: 'MK', role: 'aide' };
const setup: Author = { initials: 'BO', role: 'setup' };
const quick: Voice = { name: 'captions', say: () => Promise.resolve() };

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

let locks = new LocksInMemory().asManager();
beforeEach(() => {
  locks = new LocksInMemory().asManager();
});

/** A window of the app that `by` opened with a PIN; the vault itself is none of this test's. */
async function windowOf(by: Author, followRoster = (_roster: readonly Author[]) => true) {
  const tabs = new Tabs({ locks, channel: new BroadcastChannel('lock test tabs') }, 'record');
  const channel = new BroadcastChannel('lock test record');
  let desk: Desk | null = null;
  await tabs.start(
    (writes) => {
      if (writes) void desk?.takeUp();
      else desk?.yield();
    },
    async () => desk?.handOver(),
  );
  const stores = await openStores('desk', plainCipher, () => ({ ownReview: [] }), {
    lock: tabs.lock,
    channel,
  });
  const left: string[] = [];
  const work = {
    followRoster: (_: OpenVault, roster: readonly Author[]) =>
      Promise.resolve(followRoster(roster)),
  };
  const lock = new UnitLock({
    kind: 'pins',
    vault: { by, kind: 'pin', cipher: plainCipher, master: new Uint8Array(32) },
    states: stores.states,
    ledger: stores.ledger,
    now: Date.now,
    work: () => Promise.resolve(work as unknown as LockWork),
    persist: () => Promise.resolve({ promise: 'granted', used: null, quota: null }),
    busy: () => desk?.gloved === true,
    walking: () => desk?.walking === true,
    leave: (why) => {
      left.push(why);
      return Promise.resolve();
    },
  });
  const speech = () =>
    Promise.resolve({ ear: new TypedEar(), reason: 'unit_types', voice: quick } as const);
  const made = new Desk(stores, speech, { lock, tabs, signedIn: by });
  desk = made;
  await made.open();
  return { desk: made, tabs, lock, left };
}

async function walkTo(desk: Desk, step: string): Promise<(readonly [string, boolean])[]> {
  const seen: (readonly [string, boolean])[] = [];
  for (;;) {
    const walk = desk.walk;
    if (walk === null) throw new Error('no walk');
    await vi.waitFor(() => {
      expect(walk.expectation).not.toBeNull();
    });
    const { procedure, index } = walk.context;
    const at = procedure.steps[index]?.id ?? '';
    if (seen.at(-1)?.[0] !== at) seen.push([at, desk.gloved]);
    if (at === step) return seen;
    walk.type('next');
    await vi.waitFor(() => {
      expect(walk.context.index).toBe(index + 1);
    });
  }
}

async function begin(desk: Desk): Promise<void> {
  const bed = desk.unit.beds[3];
  const procedure = desk.procedures.find(({ id }) => id === 'drainage-bag');
  const choice = bed && procedure ? choiceFor(desk.unit, bed, procedure) : null;
  if (choice === null) throw new Error('no choice');
  await desk.begin(choice);
}

describe('When an aide came in with a PIN', () => {
  test('the settings stay as they are, whatever the screen shows', async () => {
    const { desk } = await windowOf(aide);
    const before = desk.unit;
    const done = await desk.set({ ...before, name: 'Mine now' });
    expect(done).toEqual({ ok: false, fault: 'setup_only' });
    expect(desk.unit).toBe(before);
    expect(await desk.stores.states.take('settings')).toEqual({ ok: true, value: undefined });
  });

  test('a confirmation in the aide’s name is in the record, and confirms nothing', async () => {
    const { desk } = await windowOf(aide);
    const draft = draftFact({ readAt: null });
    const written = await desk.write({ initials: 'TS', role: 'aide' }, [draft]);
    if (!written.ok) throw new Error(written.fault);
    const entry = await desk.book.find(draft.entry);
    if (entry === null) throw new Error('no entry');
    const outcome = await desk.book.confirm(desk.author, [entry]);
    expect(outcome.refused.map(({ code }) => code)).toEqual(['role_forbids']);
    expect((await desk.book.find(draft.entry))?.status).toBe('preliminary');
  });

  test('nobody else is put in their place by a change of the roster', async () => {
    const { desk } = await windowOf(setup);
    const roster = desk.unit.roster.filter(({ initials }) => initials !== 'BO');
    await desk.set({ ...desk.unit, roster });
    expect(desk.author).toEqual(setup);
  });
});

describe('When somebody who sets the unit up came in', () => {
  test('the settings are changed, and the PINs follow the roster first', async () => {
    const asked: (readonly Author[])[] = [];
    const { desk } = await windowOf(setup, (roster) => asked.push(roster) > 0);
    const unit = { ...desk.unit, name: 'North wing' };
    expect(await desk.set(unit)).toMatchObject({ ok: true });
    expect(asked).toEqual([unit.roster]);
    expect(desk.unit.name).toBe('North wing');
  });

  test('a roster that would shut everybody out is not used', async () => {
    const { desk } = await windowOf(setup, () => false);
    const done = await desk.set({ ...desk.unit, roster: [aide] });
    expect(done).toEqual({ ok: false, fault: 'setup_missing' });
    expect(desk.unit.roster).toHaveLength(5);
  });
});

describe('When gloves are on', () => {
  test('from that step on nothing locks, and before it the unit can be locked', async () => {
    const { desk, lock, left } = await windowOf(aide);
    await begin(desk);
    const seen = await walkTo(desk, 'barrier');
    expect(Object.fromEntries(seen)).toEqual({
      'clean-hands': false,
      explain: false,
      'own-container': false,
      'bed-height': false,
      'gloves-on': true,
      barrier: true,
    });
    expect(await lock.lockNow()).toBe(false);
    expect(lock.turnable).toBe(false);
    expect(left).toEqual([]);
    desk.leave();
    expect(await lock.lockNow()).toBe(true);
    expect(left).toEqual(['locked']);
  });
});

describe('When a second window takes over in the middle of a walk', () => {
  test('it finds the walk where it stood; the first follows and writes nothing any more', async () => {
    const first = await windowOf(aide);
    await begin(first.desk);
    await walkTo(first.desk, 'gloves-on');
    const second = await windowOf(aide);
    expect([first.desk.following, second.desk.following]).toEqual([false, true]);

    await second.tabs.takeOver();
    await vi.waitFor(() => {
      expect(first.desk.following).toBe(true);
      expect(second.desk.unfinished?.context.index).toBe(4);
    });
    expect(first.desk.walk).toBeNull();
    const late = await first.desk.write(aide, [{ type: 'page.viewed', page: 'queue', bed: null }]);
    expect(late).toEqual({ ok: false, fault: 'not_writer' });
    expect(first.desk.trouble).toEqual([]);

    await second.desk.resume();
    expect(await walkTo(second.desk, 'barrier')).toEqual([
      ['gloves-on', true],
      ['barrier', true],
    ]);
    // What the first still held is kept once it writes again, once.
    await first.tabs.takeOver();
    await vi.waitFor(() => {
      expect(first.desk.stores.recorder.state.unsaved).toEqual([]);
    });
    const page = await first.desk.stores.ledger.read(null, 100);
    const types = page.ok ? page.value.events.map(({ type }) => type) : [];
    expect(types).toEqual(['walk.started', 'page.viewed']);
    expect(first.desk.unfinished?.context.index).toBe(5);
  });
});
