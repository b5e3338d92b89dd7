import { assertEvent, assign, fromPromise, sendTo, setup } from 'xstate';
import type { EarFault } from '../speech/ear.ts';
import { earMachine, type EarReport } from './earMachine.ts';
import type { SaidEvent } from './said.ts';

export type SoundCheckEvent =
  | SaidEvent
  | EarReport
  /** Sound level, 0 to 1. */
  | { type: 'sound.level'; level: number }
  | { type: 'check.again' };

interface SoundCheckContext {
  /** What is said first: it names the test word. */
  readonly ask: string;
  /** The loudest sound of this try, 0 to 1. */
  readonly loudest: number;
  /** The last words that were not the test word, or null. */
  readonly other: string | null;
  readonly poor: 'loud' | 'faint' | null;
  /** Why the ear can not listen, or null. */
  readonly fault: EarFault | null;
}

const fresh = { loudest: 0, other: null, poor: null, fault: null };

/**
 * Ten seconds in which voice, microphone and ear are tried with one word.
 *
 *   asking ─said─► listening ─the test word─► passed
 *                      │ ten seconds, or a deaf ear ─► failed       passed, failed ─again─► asking
 *
 * Promise: it passes by the test word alone, heard by the ear that the walk uses.
 * `say`, `interpret` and the ear's engine are ports.
 */
export const soundCheckMachine = setup({
  types: {
    context: {} as SoundCheckContext,
    events: {} as SoundCheckEvent,
    input: {} as { readonly ask: string },
    tags: {} as 'speaking' | 'micOpen',
    children: {} as { ear: 'ear' },
  },
  actors: {
    ear: earMachine,
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  actions: {
    /** A port: the app judges the utterance by its grammars and raises what was said. */
    interpret: () => {
      throw new Error('no interpret given');
    },
    forget: assign(fresh),
    openEar: sendTo('ear', { type: 'ear.open', expectation: { state: 'step' } }),
    shutEar: sendTo('ear', { type: 'ear.shut' }),
    retryEar: sendTo('ear', { type: 'ear.retry' }),
    noteLevel: assign(({ context, event }) => {
      assertEvent(event, 'sound.level');
      return { loudest: Math.max(context.loudest, event.level) };
    }),
    noteOther: assign(({ event }) => {
      assertEvent(event, 'said.talk');
      return { other: event.words };
    }),
    notePoor: assign(({ event }) => {
      assertEvent(event, 'ear.poor');
      return { poor: event.why };
    }),
    noteDeaf: assign(({ event }) => {
      assertEvent(event, 'ear.deaf');
      return { fault: event.fault };
    }),
  },
  delays: {
    /** ms */
    patience: 10_000,
  },
}).createMachine({
  id: 'soundCheck',
  context: ({ input }) => ({ ...fresh, ask: input.ask }),
  initial: 'asking',
  invoke: { id: 'ear', src: 'ear' },
  states: {
    asking: {
      tags: 'speaking',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.ask }),
        onDone: 'opening',
        onError: 'opening',
      },
    },
    /** The first time the ear loads its model; that is not the speaker's time. */
    opening: {
      entry: 'openEar',
      on: {
        'ear.listening': 'listening',
        'ear.deaf': { target: 'failed', actions: 'noteDeaf' },
      },
    },
    listening: {
      tags: 'micOpen',
      on: {
        'ear.heard': { actions: 'interpret' },
        'ear.poor': { actions: 'notePoor' },
        'ear.deaf': { target: 'failed', actions: 'noteDeaf' },
        'sound.level': { actions: 'noteLevel' },
        'said.next': 'passed',
        'said.talk': { actions: 'noteOther' },
      },
      after: { patience: 'failed' },
    },
    passed: { entry: 'shutEar', on: { 'check.again': { target: 'asking', actions: 'forget' } } },
    failed: {
      entry: 'shutEar',
      on: { 'check.again': { target: 'asking', actions: ['forget', 'retryEar'] } },
    },
  },
});
