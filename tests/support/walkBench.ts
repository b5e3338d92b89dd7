import {
  createActor,
  fromCallback,
  fromPromise,
  raise,
  SimulatedClock,
  type Snapshot,
} from 'xstate';
import {
  earMachine,
  type EngineEvent,
  type EngineOrder,
} from '../../src/conversation/earMachine.ts';
import { saidCommand } from '../../src/conversation/judged.ts';
import { readingMachine } from '../../src/conversation/readingMachine.ts';
import { signingMachine } from '../../src/conversation/signingMachine.ts';
import { trayMachine } from '../../src/conversation/trayMachine.ts';
import type { SaidEvent, SaidVolume } from '../../src/conversation/said.ts';
import type { WalkContext, WalkInput } from '../../src/conversation/walkContext.ts';
import { walkMachine, type WalkEvent } from '../../src/conversation/walkMachine.ts';
import type { Command, Expectation } from '../../src/grammar/expectation.ts';
import { defaultFindingSettings } from '../../src/measure/findings.ts';
import type { Moment } from '../../src/measure/moment.ts';
import type { Bag, Container } from '../../src/measure/vessel.ts';
import { millilitres, type Millilitres } from '../../src/measure/volume.ts';
import type { Procedure } from '../../src/procedures/schema.ts';

const mL = millilitres;

export const graduate: Container = {
  id: 'graduate-1000',
  label: 'Graduate, 1,000 mL',
  kind: 'graduate',
  capacity: mL(1000),
  lineStep: mL(25),
};

export const bedsideBag: Bag = {
  id: 'bag-2000',
  label: 'Bedside bag, 2,000 mL',
  kind: 'bedside',
  capacity: mL(2000),
};

/** Four steps are enough to meet every kind: an act, the reading, a look, the record. */
export const shortProcedure: Procedure = {
  schema: 1,
  id: 'short',
  title: 'Empty a short bag',
  spoken: ['short bag'],
  fluid: 'urineCatheter',
  method: 'measured',
  containers: ['graduate'],
  sources: {},
  variants: [],
  steps: (
    [
      ['gloves', 'act', 'Put on gloves.'],
      ['read', 'reading', 'Read the level.'],
      ['look', 'look', 'Look at the urine.'],
      ['wash', 'act', 'Wash your hands.'],
      ['record', 'document', 'Record it.'],
    ] as const
  ).map(([id, kind, call]) => ({
    id,
    kind,
    call,
    why: `Why ${id}.`,
    gloved: id !== 'record',
    critical: false,
    marks: [],
    keywords: [],
    sources: [],
  })),
};

export const noon: Moment = { ms: Date.UTC(2026, 0, 5, 12, 0), offset: 60 };
export const later = (minutes: number): Moment => ({ ...noon, ms: noon.ms + minutes * 60_000 });

export const walkInput: WalkInput = {
  ids: { walk: 'w-1', entry: 'e-1', event: 'v-1' },
  locale: 'en-US',
  procedure: shortProcedure,
  bed: { id: 'bed-4', label: 'Bed 4' },
  initials: 'MK',
  container: graduate,
  bag: bedsideBag,
  pad: null,
  servings: [],
  others: [],
  roster: null,
  ounceIn: 30,
  circumstances: {
    bag: bedsideBag,
    earlier: [],
    weight: null,
    settings: defaultFindingSettings,
    kind: 'urineCatheter',
  },
  dysreflexiaRisk: false,
  startedAt: noon,
};

/** A volume as an ear and the grammar would hand it over. */
export function saidVolume(value: number | null, more: Partial<SaidVolume> = {}): SaidVolume {
  return {
    mL: value === null ? null : mL(value),
    candidates: value === null ? [] : [mL(value)],
    fills: [],
    approximate: false,
    doubtful: false,
    soundAlike: [],
    withdrawn: [],
    further: false,
    evidence: {
      alternatives: [{ transcript: String(value), confidence: 1 }],
      ear: 'typed',
      at: later(3),
    },
    ...more,
  };
}

export const candidates = (...values: number[]): Millilitres[] => values.map(mL);

interface Faults {
  /** How many of the next savings fail. */
  saves?: number;
  /** Stands in for the grammars. */
  judge?: () => SaidEvent;
  /** How many of the next alerts the ledger refuses. */
  raises?: number;
  /** Texts that the voice can not say. */
  mute?: RegExp;
  /** Texts that take so long that their end is never reached. */
  long?: RegExp;
}

/** The real machines over ports that remember, and a clock that only the test moves. */
export function startWalk(
  input: Partial<WalkInput> = {},
  faults: Faults = {},
  restored?: Snapshot<unknown>,
) {
  const spoken: string[] = [];
  const saved: WalkContext[] = [];
  const raised: WalkContext[] = [];
  const expected: Expectation[] = [];
  const clock = new SimulatedClock();
  const engine: { tell: (event: EngineEvent) => void } = { tell: () => undefined };
  const say = fromPromise<void, { text: string }>(({ input: { text } }) => {
    spoken.push(text);
    if (faults.long?.test(text)) return new Promise(() => undefined);
    return faults.mute?.test(text) ? Promise.reject(new Error('no voice')) : Promise.resolve();
  });
  const machine = walkMachine.provide({
    ...(faults.judge && { actions: { interpret: raise(faults.judge) } }),
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
      reading: readingMachine.provide({ actors: { say } }),
      tray: trayMachine.provide({ actors: { say } }),
      signing: signingMachine.provide({ actors: { say } }),
      say,
      save: fromPromise<Moment, { context: WalkContext }>(({ input: { context } }) => {
        if ((faults.saves ?? 0) > 0) {
          faults.saves = (faults.saves ?? 0) - 1;
          return Promise.reject(new Error('disk full'));
        }
        saved.push(context);
        return Promise.resolve(later(9));
      }),
      raise: fromPromise<void, { context: WalkContext }>(({ input: { context } }) => {
        if ((faults.raises ?? 0) > 0) {
          faults.raises = (faults.raises ?? 0) - 1;
          return Promise.reject(new Error('disk full'));
        }
        raised.push(context);
        return Promise.resolve();
      }),
    },
  });
  const options = { clock, input: { ...walkInput, ...input } };
  const actor = createActor(machine, restored ? { ...options, snapshot: restored } : options);
  actor.start();

  /** Let every promise that is due run out. */
  const quiet = async () => {
    for (let turn = 0; turn < 20; turn++) await Promise.resolve();
  };
  const send = async (event: WalkEvent) => {
    await quiet();
    actor.send(event);
    await quiet();
  };
  return {
    actor,
    clock,
    engine,
    spoken,
    saved,
    raised,
    expected,
    quiet,
    send,
    command: (...names: Command[]) =>
      names.reduce<Promise<void>>(
        (before, name) => before.then(() => send(saidCommand(name, name, later(5)))),
        quiet(),
      ),
    volume: (value: number | null, more: Partial<SaidVolume> = {}) =>
      send({ type: 'said.volume', volume: saidVolume(value, more) }),
    pass: async (ms: number) => {
      clock.increment(ms);
      await quiet();
    },
    state: () => actor.getSnapshot().value,
    reading: () => actor.getSnapshot().children.reading?.getSnapshot().value,
    context: () => actor.getSnapshot().context,
    /** What the ear expects now, or null while it is shut. */
    open: () => {
      const ear = actor.getSnapshot().children.ear?.getSnapshot();
      return ear?.hasTag('micOpen') ? (ear.context.expectation?.state ?? null) : null;
    },
  };
}
