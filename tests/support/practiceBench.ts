import { createActor, fromCallback, fromPromise, SimulatedClock } from 'xstate';
import {
  earMachine,
  type EngineEvent,
  type EngineOrder,
} from '../../src/conversation/earMachine.ts';
import { drillMachine } from '../../src/conversation/practice/drillMachine.ts';
import { guidedMachine } from '../../src/conversation/practice/guidedMachine.ts';
import type { DrillPlan, PracticePlan } from '../../src/conversation/practice/plan.ts';
import {
  practiceMachine,
  type PracticeEvent,
} from '../../src/conversation/practice/practiceMachine.ts';
import { recallMachine } from '../../src/conversation/practice/recallMachine.ts';
import type { SaidVolume } from '../../src/conversation/said.ts';
import type { Command, Expectation } from '../../src/grammar/expectation.ts';
import { millilitres as mL } from '../../src/measure/volume.ts';
import { builtIn } from '../../src/procedures/builtIn.ts';
import type { PracticeAttempt } from '../../src/procedures/practice.ts';
import type { Procedure } from '../../src/procedures/schema.ts';
import { graduate, later, noon, saidVolume } from './walkBench.ts';

const bag = builtIn[0]!;

/** Five steps of the drainage bag, three of them critical. */
export const shortBag: Procedure = {
  ...bag,
  steps: ['gloves-on', 'open-tap', 'close-tap', 'pour', 'gloves-off'].map((id) =>
    bag.steps.find((step) => step.id === id)!,
  ),
};

export const guided: PracticePlan = { mode: 'guided', procedure: shortBag };
export const recall: PracticePlan = { mode: 'recall', procedure: shortBag };
export const drill: DrillPlan = {
  mode: 'drill',
  container: graduate,
  seed: 7,
  levels: [mL(350), mL(412)],
  rounding: 'nearest',
  tolerance: mL(25),
  ounceIn: 30,
};

interface Faults {
  /** How many of the next keepings fail. */
  keeps?: number;
  /** Texts that the voice can not say. */
  mute?: RegExp;
  /** Texts that the voice never ends. */
  endless?: RegExp;
}

/** The real machines over ports that remember, and a clock that only the test moves. */
export function startPractice(plan: PracticePlan, faults: Faults = {}) {
  const spoken: string[] = [];
  const kept: PracticeAttempt[] = [];
  const expected: Expectation[] = [];
  const interpreted: unknown[] = [];
  const clock = new SimulatedClock();
  const engine: { tell: (event: EngineEvent) => void } = { tell: () => undefined };
  const say = fromPromise<void, { text: string }>(({ input: { text } }) => {
    spoken.push(text);
    if (faults.endless?.test(text)) return new Promise(() => undefined);
    return faults.mute?.test(text) ? Promise.reject(new Error('no voice')) : Promise.resolve();
  });
  const machine = practiceMachine.provide({
    actions: { interpret: ({ event }) => interpreted.push(event) },
    actors: {
      ear: earMachine.provide({
        actors: {
          engine: fromCallback<EngineOrder, { expectation: Expectation }>(
            ({ input: { expectation }, sendBack, receive }) => {
              expected.push(expectation);
              receive((order) => expected.push(order.expectation));
              engine.tell = sendBack;
              sendBack({ type: 'engine.ready' });
            },
          ),
        },
      }),
      guided: guidedMachine.provide({ actors: { say } }),
      recall: recallMachine.provide({ actors: { say } }),
      drill: drillMachine.provide({ actors: { say } }),
      keep: fromPromise<void, { attempt: PracticeAttempt }>(({ input: { attempt } }) => {
        if ((faults.keeps ?? 0) > 0) {
          faults.keeps = (faults.keeps ?? 0) - 1;
          return Promise.reject(new Error('disk full'));
        }
        kept.push(attempt);
        return Promise.resolve();
      }),
    },
  });
  const input = { id: 'a-1', startedAt: noon, locale: 'en-US', plan } as const;
  const actor = createActor(machine, { clock, input });
  actor.start();

  /** Let every promise that is due run out. */
  const quiet = async () => {
    for (let turn = 0; turn < 20; turn++) await Promise.resolve();
  };
  const send = async (event: PracticeEvent) => {
    await quiet();
    actor.send(event);
    await quiet();
  };
  const round = () => {
    const { guided: one, recall: two, drill: three } = actor.getSnapshot().children;
    return (one ?? two ?? three)?.getSnapshot();
  };
  return {
    actor,
    engine,
    spoken,
    kept,
    expected,
    interpreted,
    quiet,
    send,
    command: async (...names: Command[]) => {
      await quiet();
      for (const name of names) await send({ type: `said.${name}`, words: name, at: later(5) });
    },
    words: (words: string, picked = false) =>
      send({ type: 'said.words', words, picked, at: later(5) }),
    volume: (value: number | null, more: Partial<SaidVolume> = {}) =>
      send({ type: 'said.volume', volume: saidVolume(value, more) }),
    pass: async (ms: number) => {
      clock.increment(ms);
      await quiet();
    },
    state: () => actor.getSnapshot().value,
    context: () => actor.getSnapshot().context,
    round: () => round()?.value,
    said: () => spoken.at(-1),
    /** What the ear expects now, or null while it is shut. */
    open: () => {
      const ear = actor.getSnapshot().children.ear?.getSnapshot();
      return ear?.hasTag('micOpen') ? (ear.context.expectation?.state ?? null) : null;
    },
  };
}
