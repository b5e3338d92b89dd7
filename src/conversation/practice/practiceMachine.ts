import { assertEvent, assign, fromPromise, sendTo, setup } from 'xstate';
import type { PracticeAttempt, PracticeRound } from '../../procedures/practice.ts';
import type { EarFault } from '../../speech/ear.ts';
import { earMachine, type EarReport } from '../earMachine.ts';
import type { EarWanted } from '../readingMachine.ts';
import { drillMachine } from './drillMachine.ts';
import { guidedMachine } from './guidedMachine.ts';
import type { DrillPlan, PracticeInput, StepsPlan } from './plan.ts';
import type { PracticeSaid } from './practiceSaid.ts';
import { recallMachine } from './recallMachine.ts';

export type PracticeEvent = PracticeSaid | EarReport | EarWanted;

export interface PracticeContext extends PracticeInput {
  readonly attempt: PracticeAttempt | null;
  readonly kept: boolean;
  /** The last utterance that was not for the assistant; null for none. */
  readonly talk: string | null;
  readonly deaf: EarFault | null;
  readonly poor: 'loud' | 'faint' | null;
}

function stepsPlan({ plan }: PracticeContext): StepsPlan {
  if (plan.mode === 'drill') throw new Error('practice_without_procedure: a drill has no steps');
  return plan;
}

function drillPlan({ plan }: PracticeContext): DrillPlan {
  if (plan.mode !== 'drill') throw new Error('practice_without_container: steps have no levels');
  return plan;
}

function attemptOf(
  { id, startedAt }: PracticeContext,
  round: PracticeRound | null,
): PracticeAttempt | null {
  return round === null ? null : { ...round, id, at: startedAt };
}

/**
 * One round of practice: which kind of round, the ear for it, and keeping what came of it.
 *
 *   practising (guided | recalling | drilling) ─done, stop─► ending ─► keeping ─► over
 *                                                              │          └ refused: unkept ─► again
 *                                                              └ nothing was done ─► over
 *
 * Promise: it knows one port beside ear and voice, `keep`, which takes attempts at practice. There
 * is no way from here into the unit's record.
 */
export const practiceMachine = setup({
  types: {
    context: {} as PracticeContext,
    events: {} as PracticeEvent,
    input: {} as PracticeInput,
    children: {} as { ear: 'ear'; guided: 'guided'; recall: 'recall'; drill: 'drill' },
  },
  actors: {
    ear: earMachine,
    guided: guidedMachine,
    recall: recallMachine,
    drill: drillMachine,
    keep: fromPromise<void, { attempt: PracticeAttempt }>(() =>
      Promise.reject(new Error('no keep given')),
    ),
  },
  guards: {
    isGuided: ({ context }) => context.plan.mode === 'guided',
    isRecall: ({ context }) => context.plan.mode === 'recall',
    hasNothing: ({ context }) => context.attempt === null,
  },
  actions: {
    /** A port: the app judges the utterance by its grammars and raises what was said. */
    interpret: () => {
      throw new Error('no interpret given');
    },
    toGuided: sendTo('guided', ({ event }) => event as PracticeSaid),
    toRecall: sendTo('recall', ({ event }) => event as PracticeSaid),
    toDrill: sendTo('drill', ({ event }) => event as PracticeSaid),
    keepRound: assign(({ context, event }) => {
      const { output } = event as unknown as { output: PracticeRound | null };
      return { attempt: attemptOf(context, output), talk: null };
    }),
    noteKept: assign({ kept: true }),
    noteTalk: assign(({ event }) => {
      assertEvent(event, 'said.talk');
      return { talk: event.words };
    }),
    forgetTalk: assign({ talk: null }),
    steerEar: sendTo('ear', ({ event }) => {
      assertEvent(event, 'ear.wanted');
      return event.expectation === null
        ? { type: 'ear.shut' as const }
        : { type: 'ear.open' as const, expectation: event.expectation };
    }),
    shutEar: sendTo('ear', { type: 'ear.shut' }),
    noteDeaf: assign(({ event }) => {
      assertEvent(event, 'ear.deaf');
      return { deaf: event.fault };
    }),
    noteHearing: assign({ deaf: null, poor: null }),
    notePoor: assign(({ event }) => {
      assertEvent(event, 'ear.poor');
      return { poor: event.why };
    }),
  },
  delays: {
    /** Between two tries to keep an attempt, ms. */
    keepAgain: 5_000,
  },
}).createMachine({
  id: 'practice',
  context: ({ input }) => ({
    ...input,
    attempt: null,
    kept: false,
    talk: null,
    deaf: null,
    poor: null,
  }),
  initial: 'practising',
  invoke: { id: 'ear', src: 'ear' },
  on: {
    'ear.wanted': { actions: 'steerEar' },
    'ear.heard': { actions: 'interpret' },
    'ear.listening': { actions: 'noteHearing' },
    'ear.deaf': { actions: 'noteDeaf' },
    'ear.poor': { actions: 'notePoor' },
  },
  states: {
    practising: {
      initial: 'choosing',
      states: {
        choosing: {
          always: [
            { guard: 'isGuided', target: 'guided' },
            { guard: 'isRecall', target: 'recalling' },
            { target: 'drilling' },
          ],
        },
        guided: {
          invoke: {
            id: 'guided',
            src: 'guided',
            input: ({ context }) => ({ ...stepsPlan(context), locale: context.locale }),
            onDone: { target: '#practice.ending', actions: 'keepRound' },
          },
          on: {
            'said.talk': { actions: 'noteTalk' },
            'said.*': { actions: ['forgetTalk', 'toGuided'] },
          },
        },
        recalling: {
          invoke: {
            id: 'recall',
            src: 'recall',
            input: ({ context }) => ({ ...stepsPlan(context), locale: context.locale }),
            onDone: { target: '#practice.ending', actions: 'keepRound' },
          },
          on: {
            'said.talk': { actions: 'noteTalk' },
            'said.*': { actions: ['forgetTalk', 'toRecall'] },
          },
        },
        drilling: {
          invoke: {
            id: 'drill',
            src: 'drill',
            input: ({ context }) => ({ ...drillPlan(context), locale: context.locale }),
            onDone: { target: '#practice.ending', actions: 'keepRound' },
          },
          on: {
            'said.talk': { actions: 'noteTalk' },
            'said.*': { actions: ['forgetTalk', 'toDrill'] },
          },
        },
      },
    },
    ending: {
      entry: 'shutEar',
      always: [{ guard: 'hasNothing', target: 'over' }, { target: 'keeping' }],
    },
    keeping: {
      invoke: {
        src: 'keep',
        input: ({ context }) => ({ attempt: keptAttempt(context) }),
        onDone: { target: 'over', actions: 'noteKept' },
        onError: 'unkept',
      },
    },
    /** The device refused. It is tried again by itself, unless the trainee goes on without. */
    unkept: {
      on: { 'said.stop': 'over' },
      after: { keepAgain: 'keeping' },
    },
    over: { type: 'final' },
  },
});

function keptAttempt({ attempt }: PracticeContext): PracticeAttempt {
  if (attempt === null) throw new Error('practice_without_attempt: nothing to keep');
  return attempt;
}
