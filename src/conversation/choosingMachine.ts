import { assertEvent, assign, fromPromise, sendTo, setup } from 'xstate';
import { wordsFor, type Locale } from '../words/words.ts';
import { earMachine, type EarReport } from './earMachine.ts';
import type { SaidEvent } from './said.ts';

/** A procedure as it is chosen: by its id, read back by its title. */
export interface Choosable {
  readonly id: string;
  readonly title: string;
}

export interface ChoosingInput {
  readonly locale: Locale;
  /** Labels of the unit's beds. */
  readonly beds: readonly string[];
  readonly procedures: readonly Choosable[];
}

/** What was agreed to, or null where nothing was. */
export interface Chosen {
  readonly bed: string;
  readonly procedure: string;
}

export type ChoosingEvent = SaidEvent | EarReport | { type: 'choosing.stop' };

interface ChoosingContext extends ChoosingInput {
  readonly candidate: Chosen | null;
  readonly unanswered: number;
  readonly hint: boolean;
  readonly prompt: string;
  /** The last utterance that was not for the assistant. */
  readonly talk: string | null;
}

const mostUnanswered = 3;

/**
 * Between residents: a bed and a procedure by voice, after one tap.
 *
 *   asking ─said─► listening ─choice─► readingBack ─said─► confirming ─begin─► chosen
 *     ▲               │ silence             ▲  silence ─────────┤ no
 *     └───────────────┼─────────────────────┴───────────────────┘   three times: left
 *
 * Promise: a walk is begun only after bed and procedure were read back and agreed to; who goes away
 * leaves a shut ear behind.
 */
export const choosingMachine = setup({
  types: {
    context: {} as ChoosingContext,
    events: {} as ChoosingEvent,
    input: {} as ChoosingInput,
    output: {} as Chosen | null,
    tags: {} as 'micOpen',
    children: {} as { ear: 'ear' },
  },
  actors: {
    ear: earMachine,
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  guards: {
    isUnanswered: ({ context }) => context.unanswered >= mostUnanswered,
  },
  actions: {
    /** A port: the app judges the utterance by its grammars and raises what was said. */
    interpret: () => {
      throw new Error('no interpret given');
    },
    takeChoice: assign(({ event }) => {
      assertEvent(event, 'said.choice');
      const { bed, procedure } = event;
      return { candidate: { bed, procedure }, unanswered: 0, talk: null };
    }),
    dropChoice: assign({ candidate: null }),
    countUnanswered: assign(({ context }) => ({ unanswered: context.unanswered + 1 })),
    promptAsk: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.choose.ask })),
    promptAgain: assign(({ context }) => ({
      prompt: wordsFor(context.locale).walk.choose.askAgain,
    })),
    promptNoBed: assign(({ context }) => ({
      prompt: wordsFor(context.locale).walk.choose.noBed,
    })),
    promptHelp: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.choose.help })),
    giveHint: assign({ hint: true }),
    dropHint: assign({ hint: false }),
    noteTalk: assign(({ event }) => {
      assertEvent(event, 'said.talk');
      return { talk: event.words };
    }),
    shutEar: sendTo('ear', { type: 'ear.shut' }),
    openForChoice: sendTo('ear', ({ context: { beds, procedures } }) => {
      const ids = procedures.map(({ id }) => id);
      const expectation = { state: 'choosing', beds, procedures: ids } as const;
      return { type: 'ear.open' as const, expectation };
    }),
    openForAnswer: sendTo('ear', ({ context: { beds, procedures } }) => {
      const ids = procedures.map(({ id }) => id);
      const expectation = { state: 'chosen', beds, procedures: ids } as const;
      return { type: 'ear.open' as const, expectation };
    }),
  },
  delays: {
    /** Time to look up from the bed before it asks again, ms. */
    reminder: 20_000,
    /** Silence after the read-back, ms: never taken for a yes. */
    answerWindow: 12_000,
  },
}).createMachine({
  id: 'choosing',
  context: ({ input }) => ({
    ...input,
    candidate: null,
    unanswered: 0,
    hint: false,
    prompt: wordsFor(input.locale).walk.choose.ask,
    talk: null,
  }),
  initial: 'asking',
  invoke: { id: 'ear', src: 'ear' },
  on: {
    'ear.heard': { actions: 'interpret' },
    // Without an ear there are the tiles: nothing is waited for.
    'ear.deaf': '.left',
    'said.talk': { actions: 'noteTalk' },
    'choosing.stop': '.left',
  },
  states: {
    asking: {
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.prompt }),
        onDone: 'listening',
        onError: 'listening',
      },
    },
    listening: {
      tags: 'micOpen',
      entry: 'openForChoice',
      on: {
        'said.choice': { target: 'readingBack', actions: 'takeChoice' },
        'said.noBed': { target: 'asking', actions: 'promptNoBed' },
        'said.again': { target: 'asking', actions: 'promptAsk' },
        'said.why': { target: 'asking', actions: 'promptHelp' },
        'said.help': { target: 'asking', actions: 'promptHelp' },
      },
      after: { reminder: { target: 'unasked', actions: 'countUnanswered' } },
    },
    unasked: {
      always: [
        { guard: 'isUnanswered', target: 'left' },
        { target: 'asking', actions: 'promptAsk' },
      ],
    },
    readingBack: {
      entry: 'shutEar',
      exit: 'dropHint',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: readBackText(context) }),
        onDone: 'confirming',
        onError: { target: 'asking', actions: ['dropChoice', 'promptAgain'] },
      },
    },
    confirming: {
      tags: 'micOpen',
      entry: 'openForAnswer',
      on: {
        'said.confirm': 'chosen',
        'said.choice': { target: 'readingBack', actions: 'takeChoice' },
        'said.noBed': { target: 'asking', actions: ['dropChoice', 'promptNoBed'] },
        'said.dispute': { target: 'asking', actions: ['dropChoice', 'promptAgain'] },
        'said.again': 'readingBack',
        'said.help': { target: 'readingBack', actions: 'giveHint' },
      },
      after: { answerWindow: { target: 'unanswered', actions: 'countUnanswered' } },
    },
    unanswered: { always: [{ guard: 'isUnanswered', target: 'left' }, 'readingBack'] },
    chosen: { type: 'final', entry: 'shutEar' },
    left: { type: 'final', entry: ['shutEar', 'dropChoice'] },
  },
  output: ({ context }) => context.candidate,
});

function readBackText({ locale, candidate, procedures, hint }: ChoosingContext): string {
  const { choose } = wordsFor(locale).walk;
  const title = procedures.find(({ id }) => id === candidate?.procedure)?.title ?? '';
  const text = choose.readBack(candidate?.bed ?? '', title);
  return hint ? `${text} ${choose.sayBegin}` : text;
}
