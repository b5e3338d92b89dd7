import { assign, fromPromise, sendParent, setup } from 'xstate';
import type { Procedure, Step } from '../../procedures/schema.ts';
import type { PracticeRound } from '../../procedures/practice.ts';
import { wordsFor, type Locale } from '../../words/words.ts';
import type { EarWanted } from '../readingMachine.ts';
import type { PracticeSaid } from './practiceSaid.ts';

export interface GuidedInput {
  readonly locale: Locale;
  readonly procedure: Procedure;
}

export interface GuidedContext extends GuidedInput {
  readonly index: number;
  /** Steps that were heard and passed. */
  readonly heard: number;
  /** True once "why" was asked at this step: the screen then shows reason and sources. */
  readonly reasoned: boolean;
  readonly answer: string;
}

/** The step now called. */
export function guidedStep({ procedure, index }: GuidedContext): Step {
  const step = procedure.steps[index];
  if (step === undefined) throw new Error(`practice_past_end: step ${index}`);
  return step;
}

/** The reason of the step, and the title of its first source. */
function whyOf(context: GuidedContext): string {
  const { why, sources } = guidedStep(context);
  const [first] = sources;
  const source = first === undefined ? undefined : context.procedure.sources[first];
  return wordsFor(context.locale).practice.said.why(why, source?.title);
}

function roundOf({ procedure, heard }: GuidedContext): PracticeRound | null {
  return heard === 0 ? null : { kind: 'guided', procedure: procedure.id, steps: heard };
}

/**
 * Guided practice: each step is called, and its reason is one word away.
 *
 *   greeting ─said─► calling ─said─► listening ─next─► advancing ─► calling … ─► closing ─► done
 *                                      │ why, help, number … ─► answering ─► listening
 *   "stop" from anywhere: done
 *
 * Promise: nothing moves it but "next" and "back".
 */
export const guidedMachine = setup({
  types: {
    context: {} as GuidedContext,
    events: {} as PracticeSaid,
    input: {} as GuidedInput,
    output: {} as PracticeRound | null,
    tags: {} as 'micOpen' | 'speaking',
  },
  actors: {
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  guards: {
    isLastStep: ({ context }) => context.index >= context.procedure.steps.length - 1,
    isFirstStep: ({ context }) => context.index === 0,
  },
  actions: {
    shutEar: sendParent({ type: 'ear.wanted', expectation: null } satisfies EarWanted),
    openForStep: sendParent({
      type: 'ear.wanted',
      expectation: { state: 'practice' },
    } satisfies EarWanted),
    countHeard: assign(({ context }) => ({ heard: Math.max(context.heard, context.index + 1) })),
    forward: assign(({ context }) => ({ index: context.index + 1, reasoned: false })),
    stepBack: assign(({ context }) => ({ index: context.index - 1, reasoned: false })),
    answerWhy: assign(({ context }) => ({ answer: whyOf(context), reasoned: true })),
    answerHelp: assign(({ context }) => ({ answer: wordsOf(context).guidedHelp })),
    answerNumber: assign(({ context }) => ({ answer: wordsOf(context).noNumber })),
    answerHold: assign(({ context }) => ({ answer: wordsOf(context).hold })),
    answerAlert: assign(({ context }) => ({ answer: wordsOf(context).onlyPractice })),
    answerFirst: assign(({ context }) => ({ answer: wordsOf(context).firstStep })),
  },
}).createMachine({
  id: 'guided',
  context: ({ input }) => ({ ...input, index: 0, heard: 0, reasoned: false, answer: '' }),
  initial: 'greeting',
  on: { 'said.stop': '.done' },
  states: {
    greeting: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: wordsOf(context).guided(context.procedure.title) }),
        onDone: 'calling',
        onError: 'calling', // the caption stands on the screen
      },
      on: { 'said.next': 'calling' },
    },
    calling: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: guidedStep(context).call }),
        onDone: 'listening',
        onError: 'listening',
      },
      on: { 'said.next': 'advancing', 'said.back': 'returning' },
    },
    listening: {
      tags: 'micOpen',
      entry: 'openForStep',
      on: {
        'said.next': 'advancing',
        'said.again': 'calling',
        'said.back': 'returning',
        'said.why': { target: 'answering', actions: 'answerWhy' },
        'said.help': { target: 'answering', actions: 'answerHelp' },
        'said.number': { target: 'answering', actions: 'answerNumber' },
        'said.hold': { target: 'answering', actions: 'answerHold' },
        'said.wrong': { target: 'answering', actions: 'answerAlert' },
        'said.alert': { target: 'answering', actions: 'answerAlert' },
      },
    },
    advancing: {
      entry: 'countHeard',
      always: [
        { guard: 'isLastStep', target: 'closing' },
        { target: 'calling', actions: 'forward' },
      ],
    },
    returning: {
      always: [
        { guard: 'isFirstStep', target: 'answering', actions: 'answerFirst' },
        { target: 'calling', actions: 'stepBack' },
      ],
    },
    answering: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.answer }),
        onDone: 'listening',
        onError: 'listening',
      },
      on: { 'said.next': 'advancing' },
    },
    closing: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: wordsOf(context).guidedDone }),
        onDone: 'done',
        onError: 'done',
      },
    },
    done: { type: 'final', entry: 'shutEar' },
  },
  output: ({ context }) => roundOf(context),
});

const wordsOf = ({ locale }: GuidedInput) => wordsFor(locale).practice.said;
