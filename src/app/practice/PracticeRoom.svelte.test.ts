import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { levelsInRound } from '../../conversation/practice/drillLevels.ts';
import { plainCipher } from '../../storage/cipher.ts';
import { TypedEar } from '../../speech/typed/TypedEar.ts';
import type { Voice } from '../../speech/voice.ts';
import { Desk } from '../Desk.svelte.ts';
import { openStores } from '../storage.ts';
import { practiceOf } from './keptAttempts.ts';
import { PracticeRoom, type PracticeChoice } from './PracticeRoom.svelte.ts';

// A busy machine takes its time to read all grammars.
vi.setConfig({ testTimeout: 60_000 });

const quick: Voice = { name: 'captions', say: () => Promise.resolve() };

/** The real desk over a real store of its own, with the keyboard for an ear. */
async function deskWithRoom(voice = quick) {
  const stores = await openStores('practice', plainCipher, () => desk.rules());
  const desk: Desk = new Desk(stores, async () => ({
    ear: new TypedEar(),
    reason: 'unit_types',
    voice,
  }));
  await desk.open();
  const room = new PracticeRoom({
    states: stores.states,
    interpreter: desk.interpreter,
    unit: () => desk.unit,
    initials: () => desk.author.initials,
    speech: () => desk.ready(),
  });
  await room.book.open();

  const session = () => room.session!;
  const type = async (words: string) => {
    await vi.waitFor(() => {
      expect(session().expectation).not.toBeNull();
    });
    session().type(words);
  };
  const over = () =>
    vi.waitFor(() => {
      expect(session().view.current.status).toBe('done');
    });
  return { desk, room, session, type, over };
}

/** Rows of the record and of what waits to be written to it, on the disk itself. */
async function rowsOfRecord(): Promise<number> {
  const opening = indexedDB.open('practice');
  const database = await new Promise<IDBDatabase>((done) => {
    opening.onsuccess = () => {
      done(opening.result);
    };
  });
  const names = [...database.objectStoreNames].filter((name) => name !== 'state');
  expect(names).toContain('events');
  const counts = names.map(
    (name) =>
      new Promise<number>((done) => {
        const asked = database.transaction(name).objectStore(name).count();
        asked.onsuccess = () => {
          done(asked.result);
        };
      }),
  );
  const all = await Promise.all(counts);
  database.close();
  return all.reduce((sum, count) => sum + count, 0);
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

async function practiseAll() {
  const { desk, room, session, type, over } = await deskWithRoom();
  const bag = desk.procedures[0]!;
  await room.begin({ mode: 'guided', procedure: bag });
  await type('something is wrong');
  await type('there is blood');
  for (const { id } of bag.steps) {
    await type('why');
    await type(id === bag.steps.at(-1)?.id ? 'next step' : 'next');
  }
  await over();
  await room.begin({ mode: 'recall', procedure: bag });
  await type('something is wrong');
  await type('put on my gloves');
  for (const { call } of bag.steps) await type(call);
  await over();
  const container = desk.unit.containers[0]!;
  await room.begin({ mode: 'drill', container, seed: 4711 });
  for (let level = 0; level < levelsInRound; level += 1) {
    await type('there is blood');
    await type('three hundred fifty');
    await type('correct');
    await type('next');
  }
  await over();
  return { desk, room, session };
}

describe('When a trainee goes through all three kinds of practice', () => {
  test('the record of the unit does not grow, alerts and numbers said included', async () => {
    const { desk } = await practiseAll();
    const before = await rowsOfRecord();
    expect(before).toBe(0);
    // The same count sees a single fact of a real walk.
    const fact = {
      type: 'walk.started',
      walk: 'w',
      procedure: 'drainage-bag',
      bed: 'Bed 4',
    } as const;
    await desk.write(desk.author, [fact]);
    expect(await rowsOfRecord()).toBeGreaterThan(0);
  });

  test('the attempts are kept under a key of their own, with whose they are', async () => {
    const { desk, room } = await practiseAll();
    const kept = await desk.stores.states.take('practice');
    const { attempts } = practiceOf(kept.ok ? kept.value : undefined);
    expect(attempts).toEqual(JSON.parse(JSON.stringify(room.book.attempts)));
    expect(attempts).toMatchObject([
      { by: 'MK', attempt: { kind: 'guided', steps: 24 } },
      {
        by: 'MK',
        attempt: {
          kind: 'recall',
          picked: 0,
          result: { complete: true, missed: [], outOfOrder: [{ named: 'gloves-on' }] },
        },
      },
      { by: 'MK', attempt: { kind: 'drill', seed: 4711, tolerance: 25 } },
    ]);
    const walk = await desk.stores.states.take('walk');
    expect(walk).toEqual({ ok: true, value: undefined });
  });
});

describe('When a round is begun', () => {
  const drill = (desk: Desk, seed: number | null): PracticeChoice => ({
    mode: 'drill',
    container: desk.unit.containers[0]!,
    seed,
  });
  const levelsOf = ({ session }: PracticeRoom) => {
    const plan = session?.input.plan;
    return plan?.mode === 'drill' ? plan.levels : [];
  };

  test('the same seed shows the same levels, and the same again shows new ones', async () => {
    const { desk, room } = await deskWithRoom();
    await room.begin(drill(desk, 12));
    const first = levelsOf(room);
    await room.begin(drill(desk, 12));
    expect(levelsOf(room)).toEqual(first);
    await room.again();
    expect(levelsOf(room)).not.toEqual(first);
  });

  test('the tolerance is a setting that is kept and taken', async () => {
    const { desk, room } = await deskWithRoom();
    await room.book.setTolerance(desk.unit.containers[1]!.lineStep);
    await room.begin(drill(desk, 12));
    expect(room.session?.input.plan).toMatchObject({ tolerance: 50 });
  });

  test('the order of the unit is practised', async () => {
    const { desk, room } = await deskWithRoom();
    desk.unit = { ...desk.unit, record: 'beforeGlovesOff' };
    await room.begin({ mode: 'guided', procedure: desk.procedures[0]! });
    const plan = room.session?.input.plan;
    const ids = plan?.mode === 'guided' ? plan.procedure.steps.map(({ id }) => id) : [];
    expect(ids.indexOf('document')).toBeLessThan(ids.indexOf('gloves-off'));
  });

  test('leaving it shuts the ear and keeps nothing', async () => {
    const { desk, room, session } = await deskWithRoom();
    await room.begin(drill(desk, 12));
    await vi.waitFor(() => {
      expect(session().expectation).not.toBeNull();
    });
    const { ear } = await desk.ready();
    room.leave();
    expect(ear instanceof TypedEar && ear.type('three hundred')).toBe(false);
    expect(room.book.attempts).toEqual([]);
  });
});

describe('When buttons are used', () => {
  test('what the round would not take now is off', async () => {
    const { desk, room, session, type } = await deskWithRoom();
    await room.begin({ mode: 'drill', container: desk.unit.containers[0]!, seed: 1 });
    expect(session().can('confirm')).toBe(false);
    await type('three hundred fifty');
    await vi.waitFor(() => {
      expect(session().can('confirm')).toBe(true);
    });
    session().say('dispute');
    expect(session().can('confirm')).toBe(false);
  });

  test('a step may be chosen from the list', async () => {
    const { desk, room, session } = await deskWithRoom();
    const bag = desk.procedures[0]!;
    await room.begin({ mode: 'recall', procedure: bag });
    await vi.waitFor(() => {
      expect(session().expectation).not.toBeNull();
    });
    session().pick(bag.steps[0]!.call);
    session().say('stop');
    await vi.waitFor(() => {
      expect(room.book.attempts).toMatchObject([{ attempt: { kind: 'recall', picked: 1 } }]);
    });
  });

  test('what is typed while the assistant speaks is let pass', async () => {
    const { desk, room, session } = await deskWithRoom({
      name: 'captions',
      say: () => new Promise(() => undefined),
    });
    await room.begin({ mode: 'recall', procedure: desk.procedures[0]! });
    session().type('clean my hands');
    session().say('stop');
    expect(session().context.attempt).toBeNull();
  });
});
