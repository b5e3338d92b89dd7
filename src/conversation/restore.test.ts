import { describe, expect, test } from 'vitest';
import { createActor, fromCallback, fromPromise, SimulatedClock, type Snapshot } from 'xstate';
import { candidates, later, saidVolume, walkInput } from '../../tests/support/walkBench.ts';
import type { Command } from '../grammar/expectation.ts';
import type { Moment } from '../measure/moment.ts';
import { earMachine } from './earMachine.ts';
import { saidCommand } from './judged.ts';
import { readingMachine } from './readingMachine.ts';
import { walkMachine } from './walkMachine.ts';

/** One thing that may happen next, by name. */
type Move =
  | { command: Command }
  | { volume: number | null; further?: boolean }
  | { move: 'voiceEnds' | 'saved' | 'refused' | 'raised' | 'alert' | 'trouble' | 'waits' };

const moves: readonly Move[] = [
  { move: 'voiceEnds' },
  { command: 'next' },
  { command: 'hold' },
  { command: 'carryOn' },
  { command: 'back' },
  { command: 'why' },
  { command: 'confirm' },
  { command: 'dispute' },
  { command: 'addFill' },
  { volume: 400 },
  { volume: null },
  { move: 'saved' },
  { move: 'refused' },
  { move: 'raised' },
  { move: 'alert' },
  { move: 'trouble' },
  { move: 'waits' },
];

/** A promise that the test settles. */
interface Due {
  readonly what: 'say' | 'save' | 'raise';
  settle(ok: boolean): void;
}

/** The real machines; nothing is said, saved or raised to its end before the test says so. */
function startPage(restored?: Snapshot<unknown>) {
  const due: Due[] = [];
  const clock = new SimulatedClock();
  const promised = <T>(what: Due['what'], value: T) =>
    fromPromise<T, never>(
      () =>
        new Promise<T>((resolve, reject) => {
          const settle = (ok: boolean) => {
            due.splice(due.indexOf(one), 1);
            if (ok) resolve(value);
            else reject(new Error('refused'));
          };
          const one = { what, settle };
          due.push(one);
        }),
    );
  const say = promised<void>('say', undefined) as never;
  const machine = walkMachine.provide({
    actors: {
      ear: earMachine.provide({
        actors: {
          engine: fromCallback(({ sendBack }) => {
            sendBack({ type: 'engine.ready' });
          }) as never,
        },
      }),
      reading: readingMachine.provide({ actors: { say } }),
      say,
      save: promised<Moment>('save', later(9)) as never,
      raise: promised<void>('raise', undefined) as never,
    },
  });
  const options = { clock, input: walkInput };
  const actor = createActor(machine, restored ? { ...options, snapshot: restored } : options);
  actor.start();
  const quiet = async () => {
    for (let turn = 0; turn < 12; turn++) await Promise.resolve();
  };
  const settle = (what: Due['what'], ok = true) => {
    // The newest of its kind is the one that counts: those before belong to states that were left.
    due.findLast((one) => one.what === what)?.settle(ok);
  };
  const make = async (step: Move) => {
    if ('command' in step) actor.send(saidCommand(step.command, step.command, later(5)));
    else if ('volume' in step) {
      const more = step.volume === null ? { candidates: candidates(450, 50) } : {};
      actor.send({ type: 'said.volume', volume: saidVolume(step.volume, more) });
    } else if (step.move === 'voiceEnds') settle('say');
    else if (step.move === 'saved') settle('save');
    else if (step.move === 'refused') settle('save', false);
    else if (step.move === 'raised') settle('raise');
    else if (step.move === 'waits') clock.increment(60_000);
    else if (step.move === 'alert') {
      actor.send({ type: 'said.alert', code: 'blood', words: 'blood', at: later(6) });
    } else actor.send({ type: 'said.look', codes: ['cloudy'], words: 'cloudy', at: later(6) });
    await quiet();
  };
  return { actor, make, quiet, stop: () => actor.stop() };
}

type Page = ReturnType<typeof startPage>;

/** All that a person could tell apart after coming back. */
function seen({ actor }: Page) {
  const { value, context, children, status } = actor.getSnapshot();
  const reading = children.reading?.getSnapshot();
  return {
    value,
    status,
    index: context.index,
    settled: context.settled,
    parked: context.parked,
    looks: context.looks,
    alerts: context.alerts,
    readingValue: reading?.value,
    candidate: reading?.context.candidate,
    kept: reading?.context.kept,
    tries: reading?.context.tries,
    passes: reading?.context.passes,
    ear: children.ear?.getSnapshot().context.expectation,
  };
}

/** States are told apart by what the machines are doing, not by every number on the way. */
function kindOf(page: Page): string {
  const { value, readingValue, index, settled, parked, tries, passes } = seen(page);
  const kept = settled !== null;
  const outcome = parked?.outcome ?? null;
  return JSON.stringify([value, readingValue, index, kept, outcome, tries, passes]);
}

async function pageAfter(path: readonly Move[]): Promise<Page> {
  const page = startPage();
  await page.quiet();
  for (const step of path) await page.make(step);
  return page;
}

/** The shortest way to each kind of state, found by trying every move from every one of them. */
async function shortestPaths(): Promise<Map<string, readonly Move[]>> {
  const found = new Map<string, readonly Move[]>();
  const open: (readonly Move[])[] = [[]];
  for (let path = open.shift(); path !== undefined; path = open.shift()) {
    const page = await pageAfter(path);
    const kind = kindOf(page);
    const ended = seen(page).status !== 'active';
    page.stop();
    if (found.has(kind)) continue;
    found.set(kind, path);
    if (ended) continue;
    for (const step of moves) open.push([...path, step]);
  }
  return found;
}

describe('When the page dies in any state', () => {
  test('it comes back in the same state, with the same number, and goes on the same way', async () => {
    const paths = await shortestPaths();
    const values = new Set<unknown>();
    for (const path of paths.values()) {
      const page = await pageAfter(path);
      const before = seen(page);
      values.add(before.value).add(`reading ${String(before.readingValue)}`);
      if (before.status !== 'active') {
        page.stop();
        continue;
      }
      // What is on the disk is JSON; what can not be written so would be lost.
      const disk = JSON.stringify(page.actor.getPersistedSnapshot());
      const again = startPage(JSON.parse(disk) as Snapshot<unknown>);
      await again.quiet();
      expect(seen(again)).toEqual(before);
      for (const step of [{ move: 'voiceEnds' }, { command: 'again' }] as const) {
        await page.make(step);
        await again.make(step);
        expect(seen(again)).toEqual(seen(page));
      }
      page.stop();
      again.stop();
    }
    console.info(`page killed and restored in ${paths.size} states`);
    expect([...values]).toEqual(
      expect.arrayContaining([
        'calling',
        'listening',
        'answering',
        'reading',
        'holding',
        'held',
        'raising',
        'settling',
        'saving',
        'saved',
        'unsaved',
        'reading asking',
        'reading listening',
        'reading readingBack',
        'reading confirming',
        'reading parking',
        'reading paused',
      ]),
    );
  }, 300_000);
});
