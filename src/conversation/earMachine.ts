import {
  assertEvent,
  assign,
  enqueueActions,
  fromCallback,
  sendParent,
  sendTo,
  setup,
  type EventObject,
} from 'xstate';
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
  | SurroundingsEvent
  | EngineEvent;

/** What happens around the page that an ear may suffer from or be mended by. */
export type SurroundingsEvent =
  /** The page was hidden, or the screen locked, and is shown again. */
  | { type: 'page.shown' }
  /** A device was plugged in, or the microphone was allowed. */
  | { type: 'microphone.offered' };

/** What the ear reports to the walk. */
export type EarReport =
  | { type: 'ear.heard'; hearing: Hearing; expectation: Expectation }
  | { type: 'ear.listening' }
  /** It does not listen for a moment, and opens again by itself. */
  | { type: 'ear.away' }
  | { type: 'ear.poor'; why: 'loud' | 'faint' }
  | { type: 'ear.deaf'; fault: EarFault };

interface EarContext {
  readonly expectation: Expectation | null;
  /** Whether the walk wants it open now: deaf or not. */
  readonly wanted: boolean;
  /** Whether this session has lasted, or heard something: its end is then a habit, no fault. */
  readonly steady: boolean;
  /** Faults in a row. They set the back-off, and after six the ear waits for a person. */
  readonly faults: number;
  /** Sessions that ended by themselves since the last utterance: a habit of engines, no fault. */
  readonly endings: number;
  readonly fault: EarFault | null;
  /** The fault that the walk was told last, until it hears again. */
  readonly told: EarFault | null;
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
 *     ▲             │ start limit       │ page shown again      ▲ │
 *     │             └───────────────────┴───────────────────────┘ │
 *     └──shut── from anywhere        deaf ◄─ needs a person ──────┘  (retry: opening)
 *                                     │ page shown, microphone offered ─► hoping ─1 s─► opening
 *
 * Promise: it never opens an engine in a hot loop, and whatever stops it is told to the walk once.
 * `engine` and `surroundings` are ports; the app gives the adapter over the chosen ear, and the page.
 */
export const earMachine = setup({
  types: { context: {} as EarContext, events: {} as EarEvent, tags: {} as 'micOpen' },
  actors: {
    engine: fromCallback<EngineOrder, { expectation: Expectation }>(({ sendBack }) => {
      sendBack({ type: 'engine.fault', fault: 'engine_missing' });
    }),
    surroundings: fromCallback<EventObject>(() => undefined),
  },
  guards: {
    waitsForPerson: ({ event }) => {
      assertEvent(event, 'engine.fault');
      return needsPerson.has(event.fault);
    },
    hasGivenUp: ({ context }) => context.faults >= 6,
    isSteady: ({ context }) => context.steady,
    isWanted: ({ context }) => context.wanted,
  },
  actions: {
    keepExpectation: assign(({ event }) => {
      assertEvent(event, 'ear.open');
      return { expectation: event.expectation, wanted: true };
    }),
    unwant: assign({ wanted: false }),
    startAnew: assign({ steady: false }),
    holdSteady: assign({ steady: true }),
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
    keepFailure: assign({ fault: 'engine_failed' as const }),
    forgetTold: assign({ told: null }),
    tellListening: sendParent({ type: 'ear.listening' } satisfies EarReport),
    tellAway: sendParent({ type: 'ear.away' } satisfies EarReport),
    tellHeard: sendParent(({ context, event }): EarReport => {
      assertEvent(event, 'engine.heard');
      return { type: 'ear.heard', hearing: event.hearing, expectation: expectationOf(context) };
    }),
    tellPoor: sendParent(({ event }): EarReport => {
      assertEvent(event, 'engine.poor');
      return { type: 'ear.poor', why: event.why };
    }),
    /** Once: a try that failed the same way again is no news. */
    tellDeaf: enqueueActions(({ context, enqueue }) => {
      const fault = context.fault ?? 'engine_failed';
      if (fault === context.told) return;
      enqueue.assign({ told: fault });
      enqueue.sendParent({ type: 'ear.deaf', fault } satisfies EarReport);
    }),
  },
  delays: {
    /** An engine that says nothing for this long after opening never started, ms. */
    startLimit: 8_000,
    /** A session that lasts this long without a word is an engine's habit; a shorter one is broken, ms. */
    steadyAfter: 2_000,
    /** Plugging in tells several changes at once; one try is made when they are over, ms. */
    hopeLimit: 1_000,
    /** After a fault 250 ms, doubling to 8 s; after a mere ending 250 ms, growing to 1 s. */
    backOff: ({ context }) =>
      context.faults > 0
        ? Math.min(250 * 2 ** (context.faults - 1), 8_000)
        : Math.min(250 * Math.max(1, context.endings), 1_000),
  },
}).createMachine({
  id: 'ear',
  context: {
    expectation: null,
    wanted: false,
    steady: false,
    faults: 0,
    endings: 0,
    fault: null,
    told: null,
  },
  initial: 'shut',
  invoke: { src: 'surroundings' },
  on: { 'ear.shut': { target: '.shut', actions: 'unwant' } },
  states: {
    shut: { on: { 'ear.open': { target: 'open', actions: 'keepExpectation' } } },
    open: {
      initial: 'opening',
      entry: 'startAnew',
      invoke: {
        id: 'engine',
        src: 'engine',
        input: ({ context }) => ({ expectation: expectationOf(context) }),
      },
      on: {
        'ear.open': { actions: ['keepExpectation', 'redirect'] },
        'engine.ended': [
          { guard: 'isSteady', target: 'waiting', actions: 'countEnding' },
          { target: 'waiting', actions: ['keepFailure', 'countFault'] },
        ],
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
          entry: ['forgetTold', 'tellListening'],
          after: { steadyAfter: { actions: 'holdSteady' } },
          on: {
            'engine.heard': { actions: ['holdSteady', 'forgetFaults', 'tellHeard'] },
            'engine.poor': { actions: 'tellPoor' },
            // While hidden, a microphone may have fallen silent without a word.
            'page.shown': { target: '#ear.waiting' },
          },
        },
      },
    },
    waiting: {
      entry: 'tellAway',
      always: { guard: 'hasGivenUp', target: 'deaf' },
      on: { 'ear.open': { actions: 'keepExpectation' } },
      after: { backOff: 'open' },
    },
    deaf: {
      entry: 'tellDeaf',
      on: {
        'ear.shut': { actions: 'unwant' }, // it stays deaf until somebody or something mends it
        'ear.open': { actions: 'keepExpectation' },
        'ear.retry': [
          { guard: 'isWanted', target: 'open', actions: 'forgetFaults' },
          // The assistant speaks: it is tried when it would listen.
          { target: 'shut', actions: 'forgetFaults' },
        ],
        'page.shown': 'hoping',
        'microphone.offered': 'hoping',
      },
    },
    hoping: {
      on: {
        'ear.shut': { actions: 'unwant' },
        'ear.open': { actions: 'keepExpectation' },
      },
      after: { hopeLimit: [{ guard: 'isWanted', target: 'open' }, { target: 'shut' }] },
    },
  },
});
