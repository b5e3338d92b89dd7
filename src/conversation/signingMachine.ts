import { assertEvent, assign, fromPromise, sendParent, setup } from 'xstate';
import { wordsFor, type Locale } from '../words/words.ts';
import type { EarWanted } from './readingMachine.ts';
import type { SaidEvent } from './said.ts';

export interface SigningInput {
  readonly locale: Locale;
  /** The unit's initials; no other is taken. */
  readonly roster: readonly string[];
}

/** The signing tells the walk how it ended: the initials agreed to, or null where they stay open. */
export type SigningEnded = { type: 'signing.ended'; initials: string | null };

interface SigningContext extends SigningInput {
  readonly candidate: string | null;
  readonly tries: number;
  readonly unanswered: number;
  readonly hint: boolean;
  readonly prompt: string;
}

const maxTries = 3;

/**
 * Initials by voice, at the end of a walk.
 *
 *   asking ─said─► listening ─initials─► readingBack ─said─► confirming ─correct─► signed
 *     ▲               │ next                 ▲  silence ─────────┤ no
 *     └───────────────┼──────────────────────┴───────────────────┘   three times: parking ─► open
 *
 * Promise: initials are on the roster, were read back and agreed to, or they stay open.
 */
export const signingMachine = setup({
  types: {
    context: {} as SigningContext,
    events: {} as SaidEvent,
    input: {} as SigningInput,
    tags: {} as 'micOpen',
  },
  actors: {
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  guards: {
    isSame: ({ context, event }) => {
      assertEvent(event, 'said.initials');
      return event.initials === context.candidate;
    },
    isTriedOut: ({ context }) => context.tries >= maxTries,
    isUnanswered: ({ context }) => context.unanswered >= maxTries,
  },
  actions: {
    takeInitials: assign(({ event }) => {
      assertEvent(event, 'said.initials');
      return { candidate: event.initials, unanswered: 0 };
    }),
    dropInitials: assign(({ context }) => ({ candidate: null, tries: context.tries + 1 })),
    countTry: assign(({ context }) => ({ tries: context.tries + 1 })),
    countUnanswered: assign(({ context }) => ({ unanswered: context.unanswered + 1 })),
    promptAsk: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.sign.ask })),
    promptAgain: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.sign.askAgain })),
    promptStill: assign(({ context }) => ({
      prompt: wordsFor(context.locale).walk.sign.stillListening,
    })),
    promptHelp: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.sign.help })),
    giveHint: assign({ hint: true }),
    dropHint: assign({ hint: false }),
    shutEar: sendParent({ type: 'ear.wanted', expectation: null } satisfies EarWanted),
    openForInitials: sendParent(({ context: { roster } }): EarWanted => {
      return { type: 'ear.wanted', expectation: { state: 'initials', roster } };
    }),
    openForAnswer: sendParent(({ context: { roster } }): EarWanted => {
      return { type: 'ear.wanted', expectation: { state: 'initialsReadback', roster } };
    }),
    tellSigned: sendParent(({ context }): SigningEnded => {
      return { type: 'signing.ended', initials: context.candidate };
    }),
    tellOpen: sendParent({ type: 'signing.ended', initials: null } satisfies SigningEnded),
  },
  delays: {
    /** ms */
    reminder: 30_000,
    /** Silence after a read-back, ms: then it is read back again, never taken for a yes. */
    answerWindow: 12_000,
  },
}).createMachine({
  id: 'signing',
  context: ({ input }) => ({
    ...input,
    candidate: null,
    tries: 0,
    unanswered: 0,
    hint: false,
    prompt: wordsFor(input.locale).walk.sign.ask,
  }),
  initial: 'asking',
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
      entry: 'openForInitials',
      on: {
        'said.initials': { target: 'readingBack', actions: 'takeInitials' },
        'said.again': { target: 'asking', actions: 'promptAsk' },
        'said.why': { target: 'asking', actions: 'promptHelp' },
        'said.help': { target: 'asking', actions: 'promptHelp' },
        'said.next': 'parking',
      },
      after: { reminder: { target: 'reminding', actions: 'countUnanswered' } },
    },
    reminding: {
      always: [
        { guard: 'isUnanswered', target: 'parking' },
        { target: 'asking', actions: 'promptStill' },
      ],
    },
    readingBack: {
      entry: 'shutEar',
      exit: 'dropHint',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: readBackText(context) }),
        onDone: 'confirming',
        onError: { target: 'disputed', actions: 'dropInitials' }, // nothing to agree to
      },
    },
    confirming: {
      tags: 'micOpen',
      entry: 'openForAnswer',
      on: {
        'said.confirm': 'signed',
        'said.initials': [
          { guard: 'isSame', target: 'signed' },
          { target: 'replacing', actions: ['countTry', 'takeInitials'] },
        ],
        'said.dispute': { target: 'disputed', actions: 'dropInitials' },
        'said.again': 'readingBack',
        'said.next': { target: 'readingBack', actions: 'giveHint' },
        'said.help': { target: 'readingBack', actions: 'giveHint' },
      },
      after: { answerWindow: { target: 'unanswered', actions: 'countUnanswered' } },
    },
    unanswered: { always: [{ guard: 'isUnanswered', target: 'parking' }, 'readingBack'] },
    replacing: { always: [{ guard: 'isTriedOut', target: 'parking' }, 'readingBack'] },
    disputed: {
      always: [
        { guard: 'isTriedOut', target: 'parking' },
        { target: 'asking', actions: 'promptAgain' },
      ],
    },
    parking: {
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: wordsFor(context.locale).walk.sign.parked }),
        onDone: 'open',
        onError: 'open',
      },
    },
    signed: { type: 'final', entry: 'tellSigned' },
    open: { type: 'final', entry: 'tellOpen' },
  },
});

function readBackText({ locale, candidate, hint }: SigningContext): string {
  const { sign } = wordsFor(locale).walk;
  const text = sign.readBack(candidate ?? '');
  return hint ? `${text} ${sign.sayCorrect}` : text;
}
