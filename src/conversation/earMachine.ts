import { assertEvent, assign, fromCallback, sendParent, sendTo, setup } from 'xstate';
import type { Expectation } from '../grammar/expectation.ts';
import type { EarFault, Hearing } from '../speech/ear.ts';

/** What the engine tells the machine: the port's signals as events. */
export type EngineEvent =
  | { type: 'engine.ready' }
  | { type: 'engine.heard'; hearing: Hearing }
  | { type: 'engine.poor'; why: 'loud' | 'faint' }
  | { type: 'engine.fault'; fault: EarFault }
  | { type: 'engine.ended' };

/** What the machine tells the engine while it runs. */
export type EngineOrder = { type: 'expect'; expectation: Expectation };

export type EarEvent =
  | { type: 'ear.open'; expectation: Expectation }
  | { type: 'ear.shut' }
  /** A person asks to try again, after a fault that does not mend itself. */
  | { type: 'ear.retry' }
  | EngineEvent;

/** What the ear reports to the walk. */
export type EarReport =
  | { type: 'ear.heard'; hearing: Hearing; expectation: Expectation }
  | { type: 'ear.listening' }
  | { type: 'ear.poor'; why: 'loud' | 'faint' }
  | { type: 'ear.deaf'; fault: EarFault };

interface EarContext {
  readonly expectation: Expectation | null;
  /** Faults in a row. They set the back-off, and after six the ear waits for a person. */
  readonly faults: number;
  /** Sessions that ended by themselves since the last utterance: a habit of engines, no fault. */
  readonly endings: number;
  readonly fault: EarFault | null;
}

/** These wait for a person: opening again by itself can only fail the same way. */
const needsPerson: ReadonlySet<EarFault> = new Set<EarFault>([
  'microphone_denied',
  'microphone_missing',
  'engine_missing',
  'language_missing',
  'remote_refused',
  'sound_suspended',
]);

function expectationOf(context: EarContext): Expectation {
  if (context.expectation === null) throw new Error('ear_expects_nothing: open without ear.open');
  return context.expectation;
}

/**
 * The supervision of one ear.
 *
 *   shut ─open─► opening ─ready─► listening ─ended, fault─► waiting ─back-off─► opening
 *     ▲             │ start limit                              │
 *     └──shut── from anywhere        deaf ◄─ needs a person ───┘  (retry: opening)
 *
 * Promise: it never opens an engine in a hot loop, and whatever stops it is told to the walk once.
 * `engine` is a port; the app gives the adapter over the chosen ear.
 */
export const earMachine = setup({
  types: { context: {} as EarContext, events: {} as EarEvent, tags: {} as 'micOpen' },
  actors: {
    engine: fromCallback<EngineOrder, { expectation: Expectation }>(({ sendBack }) => {
      sendBack({ type: 'engine.fault', fault: 'engine_missing' });
    }),
  },
  guards: {
    waitsForPerson: ({ event }) => {
      assertEvent(event, 'engine.fault');
      return needsPerson.has(event.fault);
    },
    hasGivenUp: ({ context }) => context.faults >= 6,
  },
  actions: {
    keepExpectation: assign(({ event }) => {
      assertEvent(event, 'ear.open');
      return { expectation: event.expectation };
    }),
    redirect: sendTo('engine', ({ event }): EngineOrder => {
      assertEvent(event, 'ear.open');
      return { type: 'expect', expectation: event.expectation };
    }),
    countFault: assign(({ context }) => ({ faults: context.faults + 1 })),
    countEnding: assign(({ context }) => ({
      endings: context.endings + 1,
      faults: 0,
      fault: null,
    })),
    forgetFaults: assign({ faults: 0, endings: 0, fault: null }),
    keepFault: assign(({ event }) => {
      assertEvent(event, 'engine.fault');
      return { fault: event.fault };
    }),
    keepSilence: assign({ fault: 'engine_silent' as const }),
    tellListening: sendParent({ type: 'ear.listening' } satisfies EarReport),
    tellHeard: sendParent(({ context, event }): EarReport => {
      assertEvent(event, 'engine.heard');
      return { type: 'ear.heard', hearing: event.hearing, expectation: expectationOf(context) };
    }),
    tellPoor: sendParent(({ event }): EarReport => {
      assertEvent(event, 'engine.poor');
      return { type: 'ear.poor', why: event.why };
    }),
    tellDeaf: sendParent(({ context }): EarReport => {
      return { type: 'ear.deaf', fault: context.fault ?? 'engine_failed' };
    }),
  },
  delays: {
    /** An engine that says nothing for this long after opening never started, ms. */
    startLimit: 8_000,
    /** After a fault 250 ms, doubling to 8 s; after a mere ending 250 ms, growing to 1 s. */
    backOff: ({ context }) =>
      context.faults > 0
        ? Math.min(250 * 2 ** (context.faults - 1), 8_000)
        : Math.min(250 * Math.max(1, context.endings), 1_000),
  },
}).createMachine({
  id: 'ear',
  context: { expectation: null, faults: 0, endings: 0, fault: null },
  initial: 'shut',
  on: { 'ear.shut': '.shut' },
  states: {
    shut: { on: { 'ear.open': { target: 'open', actions: 'keepExpectation' } } },
    open: {
      initial: 'opening',
      invoke: {
        id: 'engine',
        src: 'engine',
        input: ({ context }) => ({ expectation: expectationOf(context) }),
      },
      on: {
        'ear.open': { actions: ['keepExpectation', 'redirect'] },
        'engine.ended': { target: 'waiting', actions: 'countEnding' },
        'engine.fault': [
          { guard: 'waitsForPerson', target: 'deaf', actions: 'keepFault' },
          { target: 'waiting', actions: ['keepFault', 'countFault'] },
        ],
      },
      states: {
        opening: {
          on: { 'engine.ready': 'listening' },
          after: { startLimit: { target: '#ear.waiting', actions: ['keepSilence', 'countFault'] } },
        },
        listening: {
          tags: 'micOpen',
          entry: 'tellListening',
          on: {
            'engine.heard': { actions: ['forgetFaults', 'tellHeard'] },
            'engine.poor': { actions: 'tellPoor' },
          },
        },
      },
    },
    waiting: {
      always: { guard: 'hasGivenUp', target: 'deaf' },
      on: { 'ear.open': { actions: 'keepExpectation' } },
      after: { backOff: 'open' },
    },
    deaf: {
      entry: 'tellDeaf',
      on: {
        'ear.shut': {}, // shut or not, it stays deaf until a person asks for another try
        'ear.open': { actions: 'keepExpectation' },
        'ear.retry': { target: 'open', actions: 'forgetFaults' },
      },
    },
  },
});
