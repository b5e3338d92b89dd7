import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import type { Entry } from '../../charting/entry.ts';
import { foldEntry } from '../../charting/fold.ts';
import type { Voice } from '../../speech/voice.ts';
import type { Desk } from '../Desk.svelte.ts';
import { FirstMinute, type MinutePorts } from './FirstMinute.svelte.ts';
import { demoDatabase, openWing, resetWing } from './openWing.ts';

// A busy machine takes its time to read all grammars.
vi.setConfig({ testTimeout: 60_000 });

const quick: Voice = { name: 'captions', say: () => Promise.resolve() };
const noVoice: MinutePorts['openAide'] = () => Promise.reject(new Error('voice_missing'));

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

async function entriesOf(desk: Desk): Promise<readonly Entry[]> {
  const found = await desk.stores.ledger.groups({ kind: 'entry' });
  if (!found.ok) throw new Error(found.fault);
  return found.value.flatMap((events) => foldEntry(events, desk.rules()).entry ?? []);
}

async function minuteWith(openAide = noVoice) {
  const desk = await openWing();
  const before = (await entriesOf(desk)).map(({ id }) => id);
  const minute = new FirstMinute({ desk, voice: quick, openAide });
  const made = async () => (await entriesOf(desk)).filter(({ id }) => !before.includes(id));
  return { desk, minute, made };
}

/** Pass over what is the same every time, from the first step to the last. */
async function hurryTo(minute: FirstMinute, kind: 'reading' | 'end'): Promise<void> {
  await vi.waitFor(
    () => {
      if (kind === 'reading') expect(minute.session).not.toBeNull();
      else expect(minute.session?.context.settled).not.toBeNull();
    },
    { timeout: 30_000 },
  );
  minute.skip();
}

describe('When the aide has no voice', () => {
  test('the walk is typed, disputed and agreed to, and leaves one entry', async () => {
    const { desk, minute, made } = await minuteWith();
    await minute.begin();
    expect(minute.phase).toBe('silent');
    const walking = minute.beginMute();
    await hurryTo(minute, 'reading');
    await hurryTo(minute, 'end');
    await walking;
    expect(minute.phase).toBe('done');
    const entries = await made();
    expect(entries).toMatchObject([
      { bed: 'Bed 12', status: 'preliminary', amount: { method: 'measured', mL: 350 } },
    ]);
    expect(entries[0]?.draft.evidence?.tries).toBe(2);
    const said = minute.lines.map(({ who, words }) => `${who}: ${words}`).join('\n');
    expect(said).toMatch(/aide: no\n/);
    expect(said).toMatch(/three, five, zero/);
    expect(desk.walk).toBeNull();
    // The way of hearing that the device chooses is asked for again.
    expect(desk.speech).toBeNull();
  });

  test('stopped on the way, it leaves no entry', async () => {
    const { minute, made } = await minuteWith();
    await minute.begin();
    const walking = minute.beginMute();
    await vi.waitFor(() => {
      expect(minute.lines.some(({ who }) => who === 'aide')).toBe(true);
    });
    minute.stop();
    await walking;
    expect(minute.phase).toBe('stopped');
    expect(await made()).toEqual([]);
  });

  test('while it is paused she says nothing', async () => {
    const { minute } = await minuteWith();
    await minute.begin();
    minute.paused = true;
    const walking = minute.beginMute();
    await vi.waitFor(() => {
      const { ear } = minute.session?.view.current.children ?? {};
      expect(ear?.getSnapshot().hasTag('micOpen')).toBe(true);
    });
    const timers = vi.spyOn(globalThis, 'setTimeout');
    await vi.waitFor(() => {
      // She looked three times whether she may speak.
      expect(timers.mock.calls.filter(([, ms]) => ms === 80).length).toBeGreaterThan(2);
    });
    timers.mockRestore();
    expect(minute.lines.filter(({ who }) => who === 'aide')).toEqual([]);
    minute.stop();
    await walking;
  });

  test('loading can be cancelled', async () => {
    const { minute } = await minuteWith(
      (_, onprogress, signal) =>
        new Promise((_done, fail) => {
          onprogress(0.5);
          signal.addEventListener('abort', () => {
            fail(new DOMException('', 'AbortError'));
          });
        }),
    );
    const beginning = minute.begin();
    expect(minute.phase).toBe('loading');
    expect(minute.loaded).toBe(0.5);
    minute.cancel();
    await beginning;
    expect(minute.phase).toBe('silent');
  });
});

describe('When the demo wing is opened again', () => {
  test('what was done in it is there; begun anew, it is gone', async () => {
    const desk = await openWing();
    const count = (await entriesOf(desk)).length;
    const fact = { type: 'page.viewed', page: 'queue', bed: null } as const;
    await desk.write(desk.author, [fact]);
    const events = async (one: Desk) => {
      const all = await one.stores.ledger.count();
      return all.ok ? all.value : 0;
    };
    const before = await events(desk);
    await desk.stores.database.close();
    const again = await openWing();
    expect(await events(again)).toBe(before);
    const anew = await resetWing(again);
    expect(await events(anew)).toBe(before - 1);
    expect(await entriesOf(anew)).toHaveLength(count);
    expect((await indexedDB.databases()).map(({ name }) => name)).toEqual([demoDatabase]);
  });
});
