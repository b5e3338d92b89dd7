import { assertEvent, assign, fromPromise, sendParent, setup } from 'xstate';
import type { Serving } from '../measure/intake.ts';
import type { Moment } from '../measure/moment.ts';
import { sumOf, type Millilitres } from '../measure/volume.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { EarWanted, Parked, ReadingEnded, ReadingEvent, Settled } from './readingMachine.ts';
import type { SaidVolume } from './said.ts';
import { isSameServing } from './servingSaid.ts';
import { drinkName, servingText, traySum } from './tray.ts';

export interface TrayInput {
  readonly locale: Locale;
  /** What the unit serves. */
  readonly servings: readonly Serving[];
  readonly call: string;
  readonly why: string;
  /** A tray settled before, when the aide comes back to this step: its sum is read back first. */
  readonly before: Settled | null;
  /** Servings kept in a tray that was left open. */
  readonly fills: readonly SaidVolume[];
}

interface TrayContext extends TrayInput {
  /** Servings that were read back and agreed to. */
  readonly kept: readonly SaidVolume[];
  readonly candidate: SaidVolume | null;
  readonly readBack: string;
  readonly answer: { readonly words: string; readonly at: Moment } | null;
  readonly tries: number;
  readonly unanswered: number;
  readonly passes: number;
  readonly disputed: readonly SaidVolume[];
  readonly hint: boolean;
  readonly prompt: string;
}

const maxTries = 3;

function readBackText(context: TrayContext): string {
  const { tray } = wordsFor(context.locale).walk;
  const { candidate, hint } = context;
  const text =
    candidate === null
      ? tray.sum(traySum(context.kept))
      : tray.readBack(servingText(candidate, context.locale), candidate.mL ?? 0);
  return hint ? `${text} ${tray.sayCorrect}` : text;
}

/**
 * A tray, one serving after the other.
 *
 *   asking ─said─► listening ─serving─► judging ─► readingBack ─said─► confirming ─correct─► asking
 *                     │ that's all                     ▲                   │ no, another, silence
 *                     └───────────► summing ───────────┘ (the sum)         └─correct─► settled
 *
 * Promise: a serving is kept, and the sum settled, only after each was read back and agreed to. An
 * open tray keeps the servings that were.
 */
export const trayMachine = setup({
  types: {
    context: {} as TrayContext,
    events: {} as ReadingEvent,
    input: {} as TrayInput,
    output: {} as Settled | Parked,
    tags: {} as 'micOpen',
  },
  actors: {
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  guards: {
    isRefused: ({ context }) => context.candidate?.mL === null,
    isSame: ({ context, event }) => {
      assertEvent(event, 'said.volume');
      return context.candidate !== null && isSameServing(context.candidate, event.volume);
    },
    isServing: ({ context }) => context.candidate !== null,
    isTriedOut: ({ context }) => context.tries >= maxTries,
    isUnanswered: ({ context }) => context.unanswered >= maxTries,
    isPassed: ({ context }) => context.passes >= 1,
    hasBefore: ({ context }) => context.before !== null,
    hasNone: ({ context }) => context.kept.length === 0,
  },
  actions: {
    takeServing: assign(({ event }) => {
      assertEvent(event, 'said.volume');
      return { candidate: event.volume, unanswered: 0, passes: 0 };
    }),
    keepServing: assign(({ context }) => {
      const { candidate, kept, locale } = context;
      if (candidate === null) return {};
      const { tray } = wordsFor(locale).walk;
      return {
        kept: [...kept, candidate],
        candidate: null,
        tries: 0,
        unanswered: 0,
        prompt: `${tray.kept(servingText(candidate, locale))} ${tray.askNext}`,
      };
    }),
    disputeServing: assign(({ context }) => {
      const { candidate, disputed, tries } = context;
      return {
        disputed: candidate === null ? disputed : [...disputed, candidate],
        candidate: null,
        tries: tries + 1,
      };
    }),
    takeBackLast: assign(({ context }) => {
      const { kept, disputed, locale, tries } = context;
      const last = kept.at(-1);
      const { tray } = wordsFor(locale).walk;
      if (last === undefined) return { tries: tries + 1, prompt: tray.ask };
      return {
        kept: kept.slice(0, -1),
        disputed: [...disputed, last],
        tries: tries + 1,
        prompt: `${tray.takenBack(servingText(last, locale))} ${tray.askNext}`,
      };
    }),
    countPass: assign(({ context }) => ({ passes: context.passes + 1 })),
    countUnanswered: assign(({ context }) => ({ unanswered: context.unanswered + 1 })),
    keepReadBack: assign(({ context }) => ({ readBack: readBackText(context) })),
    keepAnswer: assign(({ event }) => {
      assertEvent(event, 'said.confirm');
      return { answer: { words: event.words, at: event.at } };
    }),
    promptAsk: assign(({ context }) => {
      const { tray } = wordsFor(context.locale).walk;
      return { prompt: context.kept.length === 0 ? tray.ask : tray.askNext };
    }),
    promptAgain: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.tray.askAgain })),
    promptRefused: assign(({ context }) => {
      const { tray } = wordsFor(context.locale).walk;
      const serving = context.disputed.at(-1)?.item?.serving;
      return {
        prompt:
          serving === undefined
            ? tray.askAgain
            : tray.aboveServed(drinkName(serving.label), serving.size),
      };
    }),
    promptPass: assign(({ context }) => ({
      prompt: wordsFor(context.locale).walk.tray.nothingNext,
    })),
    promptStill: assign(({ context }) => ({
      prompt: wordsFor(context.locale).walk.tray.stillListening,
    })),
    promptWhy: assign(({ context }) => ({ prompt: context.why })),
    promptHelp: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.tray.help })),
    promptNumber: assign(({ context }) => {
      const { walk } = wordsFor(context.locale);
      const { kept } = context;
      return { prompt: kept.length === 0 ? walk.noNumberYet : walk.tray.number(traySum(kept)) };
    }),
    giveHint: assign({ hint: true }),
    dropHint: assign({ hint: false }),
    shutEar: sendParent({ type: 'ear.wanted', expectation: null } satisfies EarWanted),
    openForServing: sendParent(({ context: { servings } }): EarWanted => {
      return { type: 'ear.wanted', expectation: { state: 'tray', servings } };
    }),
    openForAnswer: sendParent(({ context: { servings } }): EarWanted => {
      return { type: 'ear.wanted', expectation: { state: 'trayReadback', servings } };
    }),
    tellEnded: sendParent(({ context }): ReadingEnded => {
      return { type: 'reading.ended', outcome: outcomeOf(context) };
    }),
  },
  delays: {
    /** Long enough to look over the tray before being reminded, ms. */
    reminder: 30_000,
    /** Silence after a read-back, ms: then it is read back again, never taken for a yes. */
    answerWindow: 12_000,
  },
}).createMachine({
  id: 'tray',
  context: ({ input }) => ({
    ...input,
    kept: input.before?.fills ?? input.fills,
    candidate: null,
    readBack: '',
    answer: null,
    tries: 0,
    unanswered: 0,
    passes: 0,
    disputed: input.before?.disputed ?? [],
    hint: false,
    prompt: input.call,
  }),
  initial: 'opening',
  on: { 'reading.pause': '.paused' },
  states: {
    opening: { always: [{ guard: 'hasBefore', target: 'readingBack' }, 'asking'] },
    paused: {
      entry: 'shutEar',
      on: {
        'reading.resume': [
          { guard: 'isTriedOut', target: 'parking' },
          { guard: 'isServing', target: 'readingBack' },
          { target: 'asking', actions: 'promptAsk' },
        ],
      },
    },
    asking: {
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.prompt }),
        onDone: 'listening',
        onError: 'listening', // the caption shows it: a question unheard takes nothing
      },
    },
    listening: {
      tags: 'micOpen',
      entry: 'openForServing',
      on: {
        'said.volume': { target: 'judging', actions: 'takeServing' },
        'said.noMore': [
          { guard: 'hasNone', target: 'asking', actions: 'promptAsk' },
          { target: 'readingBack' },
        ],
        'said.again': { target: 'asking', actions: 'promptAsk' },
        'said.help': { target: 'asking', actions: 'promptHelp' },
        'said.why': { target: 'asking', actions: 'promptWhy' },
        'said.number': { target: 'asking', actions: 'promptNumber' },
        'said.next': [
          { guard: 'isPassed', target: 'parking' },
          { target: 'asking', actions: ['countPass', 'promptPass'] },
        ],
      },
      after: { reminder: { target: 'asking', actions: 'promptStill' } },
    },
    judging: {
      always: [
        { guard: 'isRefused', target: 'refused', actions: ['disputeServing', 'promptRefused'] },
        { target: 'readingBack' },
      ],
    },
    refused: { always: [{ guard: 'isTriedOut', target: 'parking' }, { target: 'asking' }] },
    readingBack: {
      entry: ['shutEar', 'keepReadBack'],
      exit: 'dropHint',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.readBack }),
        onDone: 'confirming',
        onError: { target: 'disputed', actions: 'disputeServing' }, // nothing to agree to
      },
    },
    confirming: {
      tags: 'micOpen',
      entry: 'openForAnswer',
      on: {
        'said.confirm': [
          { guard: 'isServing', target: 'asking', actions: 'keepServing' },
          { target: 'settled', actions: 'keepAnswer' },
        ],
        'said.volume': [
          { guard: 'isSame', target: 'asking', actions: 'keepServing' },
          { guard: 'isServing', target: 'replacing', actions: ['disputeServing', 'takeServing'] },
          { target: 'judging', actions: 'takeServing' },
        ],
        'said.dispute': [
          { guard: 'isServing', target: 'disputed', actions: ['disputeServing', 'promptAgain'] },
          { target: 'disputed', actions: 'takeBackLast' },
        ],
        'said.again': 'readingBack',
        'said.number': 'readingBack',
        'said.noMore': { target: 'readingBack', actions: 'giveHint' },
        'said.next': { target: 'readingBack', actions: 'giveHint' },
        'said.help': { target: 'readingBack', actions: 'giveHint' },
        'said.why': { target: 'readingBack', actions: 'giveHint' },
      },
      after: { answerWindow: { target: 'unanswered', actions: 'countUnanswered' } },
    },
    unanswered: {
      always: [{ guard: 'isUnanswered', target: 'parking' }, { target: 'readingBack' }],
    },
    replacing: { always: [{ guard: 'isTriedOut', target: 'parking' }, { target: 'judging' }] },
    disputed: { always: [{ guard: 'isTriedOut', target: 'parking' }, { target: 'asking' }] },
    parking: {
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: wordsFor(context.locale).walk.tray.parked }),
        onDone: 'parked',
        onError: 'parked',
      },
    },
    settled: { type: 'final', entry: 'tellEnded' },
    parked: { type: 'final', entry: 'tellEnded' },
  },
  output: ({ context }): Settled | Parked => outcomeOf(context),
});

function outcomeOf(context: TrayContext): Settled | Parked {
  const { kept, candidate, answer, tries } = context;
  // What was read back and not agreed to stays in the record as disputed.
  const disputed = candidate === null ? context.disputed : [...context.disputed, candidate];
  const readAt = kept.at(-1)?.evidence.at ?? disputed.at(-1)?.evidence.at ?? null;
  if (answer === null || readAt === null) {
    const candidates: Millilitres[] = [];
    return { outcome: 'parked', candidates, fills: kept, readAt, findings: [], tries, disputed };
  }
  return {
    outcome: 'settled',
    amount: sumOf(kept.flatMap(({ mL }) => (mL === null ? [] : [mL]))),
    fills: kept,
    readAt,
    readBack: context.readBack,
    answer: answer.words,
    answeredAt: answer.at,
    findings: [],
    tries,
    disputed,
  };
}
