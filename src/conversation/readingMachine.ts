import { assertEvent, assign, fromPromise, sendParent, setup } from 'xstate';
import type { Expectation, OunceRule } from '../grammar/expectation.ts';

import type { Finding } from '../measure/finding.ts';
import type { Moment } from '../measure/moment.ts';
import type { Container } from '../measure/vessel.ts';
import { sumOf, type Millilitres } from '../measure/volume.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { SaidEvent, SaidVolume } from './said.ts';
import { weighed, type Circumstances, type Weighed } from './weighed.ts';

export interface ReadingInput {
  readonly locale: Locale;
  readonly container: Container;
  readonly ounceIn: OunceRule;
  readonly circumstances: Circumstances;
  /** What is said first: the step's own call. */
  readonly call: string;
  readonly why: string;
  /** A number settled before, when the aide comes back to this step: it is read back first. */
  readonly before: Settled | null;
}

/** A reading that was read back and agreed to. */
export interface Settled {
  readonly outcome: 'settled';
  readonly amount: Millilitres;
  readonly fills: readonly SaidVolume[];
  /** When the amount was said: the time of the reading. */
  readonly readAt: Moment;
  readonly readBack: string;
  /** The words that agreed: the confirming phrase, or the same number. */
  readonly answer: string;
  readonly answeredAt: Moment;
  readonly findings: readonly Finding[];
  readonly tries: number;
  readonly disputed: readonly SaidVolume[];
}

/** A reading that could not be settled with gloves on. It is kept open, never guessed. */
export interface Parked {
  readonly outcome: 'parked';
  readonly candidates: readonly Millilitres[];
  readonly readAt: Moment | null;
  readonly findings: readonly Finding[];
  readonly tries: number;
  readonly disputed: readonly SaidVolume[];
}

interface ReadingContext extends ReadingInput {
  /** Fills kept so far in this emptying; the one under discussion is not among them. */
  readonly kept: readonly SaidVolume[];
  readonly candidate: SaidVolume | null;
  readonly weighed: Weighed | null;
  readonly readBack: string;
  readonly answer: { readonly words: string; readonly at: Moment } | null;
  readonly tries: number;
  readonly unanswered: number;
  readonly passes: number;
  readonly disputed: readonly SaidVolume[];
  /** True when the read-back also says how to answer it. */
  readonly hint: boolean;
  /** What is said on entering `asking`. */
  readonly prompt: string;
}

/** The reading tells the walk what may be said now; `null` shuts the ear. */
export type EarWanted = { type: 'ear.wanted'; expectation: Expectation | null };

/** The reading tells the walk how it ended. */
export type ReadingEnded = { type: 'reading.ended'; outcome: Settled | Parked };

export type ReadingEvent = SaidEvent | { type: 'reading.pause' } | { type: 'reading.resume' };

const maxTries = 3;

/** The volumes of one utterance: its fills, or the one amount. */
function partsOf(volume: SaidVolume): readonly Millilitres[] {
  if (volume.fills.length > 0) return volume.fills;
  return volume.mL === null ? [] : [volume.mL];
}

const keptParts = (context: ReadingContext): readonly Millilitres[] =>
  context.kept.flatMap(partsOf);

function proposedParts(context: ReadingContext): readonly Millilitres[] {
  return [...keptParts(context), ...(context.candidate ? partsOf(context.candidate) : [])];
}

const proposed = (context: ReadingContext): Millilitres => sumOf(proposedParts(context));

function readBackText(context: ReadingContext): string {
  const text = proposalText(context);
  return context.hint ? `${text} ${wordsFor(context.locale).walk.sayCorrect}` : text;
}

function proposalText(context: ReadingContext): string {
  const { walk } = wordsFor(context.locale);
  const parts = proposedParts(context);
  if (parts.length > 1) return walk.readBackFills(parts, sumOf(parts));
  const digits = context.candidate !== null && needsDigits(context.candidate);
  return walk.readBack(proposed(context), digits);
}

const needsDigits = (volume: SaidVolume): boolean =>
  volume.doubtful || volume.approximate || volume.soundAlike.length > 0;

function candidatesOf(context: ReadingContext): Millilitres[] {
  const all = [...context.disputed, ...(context.candidate ? [context.candidate] : [])];
  return [...new Set(all.flatMap((volume) => volume.candidates))];
}

/**
 * The taking of one reading, with the gloves on.
 *
 *   asking ─said─► listening ─volume─► weighing ─► readingBack ─said─► confirming ─correct─► settled
 *     ▲               │ next, next        │ ask        │ not said          │ no, other number,
 *     │               ▼                   ▼            ▼                   ▼ silence thrice
 *     └────────────── parking ◄── after three failed tries ────────────────┘
 *
 * Promise: it ends `settled` only with an amount that was read back and then agreed to, by the
 * confirming phrase or by the same number said again. Everything else ends `parked`.
 */
export const readingMachine = setup({
  types: {
    context: {} as ReadingContext,
    events: {} as ReadingEvent,
    input: {} as ReadingInput,
    output: {} as Settled | Parked,
    tags: {} as 'micOpen',
  },
  actors: {
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  guards: {
    isSameNumber: ({ context, event }) => {
      assertEvent(event, 'said.volume');
      const said = event.volume.mL;
      if (said === null || context.candidate === null || event.volume.approximate) return false;
      return said === context.candidate.mL || said === proposed(context);
    },
    isFurther: ({ event }) => {
      assertEvent(event, 'said.volume');
      return event.volume.further;
    },
    isTriedOut: ({ context }) => context.tries >= maxTries,
    isUnanswered: ({ context }) => context.unanswered >= maxTries,
    isPassed: ({ context }) => context.passes >= 1,
    mustAsk: ({ context }) => context.weighed?.question !== null,
    hasBefore: ({ context }) => context.candidate !== null,
    hasProposal: ({ context }) =>
      context.candidate !== null && (context.weighed === null || context.weighed.question === null),
  },
  actions: {
    takeVolume: assign(({ context, event }) => {
      assertEvent(event, 'said.volume');
      const before = context.weighed?.questioned ?? null;
      return {
        candidate: event.volume,
        weighed: weighed(event.volume, keptParts(context), context, before, context.locale),
        unanswered: 0,
        passes: 0,
      };
    }),
    keepFill: assign(({ context }) => ({
      kept: context.candidate ? [...context.kept, context.candidate] : context.kept,
      candidate: null,
      weighed: null,
    })),
    disputeIt: assign(({ context }) => ({
      disputed: context.candidate ? [...context.disputed, context.candidate] : context.disputed,
      tries: context.tries + 1,
    })),
    countTry: assign(({ context }) => ({ tries: context.tries + 1 })),
    countPass: assign(({ context }) => ({ passes: context.passes + 1 })),
    countUnanswered: assign(({ context }) => ({ unanswered: context.unanswered + 1 })),
    keepReadBack: assign(({ context }) => ({ readBack: readBackText(context) })),
    keepAnswer: assign(({ event }) => {
      assertEvent(event, ['said.confirm', 'said.volume']);
      if (event.type === 'said.confirm') return { answer: { words: event.words, at: event.at } };
      const { alternatives, at } = event.volume.evidence;
      return { answer: { words: alternatives[0]?.transcript ?? '', at } };
    }),
    promptAsk: assign(({ context }) => {
      const { walk } = wordsFor(context.locale);
      return { prompt: context.kept.length > 0 ? walk.askFill(context.kept.length + 1) : walk.ask };
    }),
    promptAgain: assign(({ context }) => {
      const { walk } = wordsFor(context.locale);
      return { prompt: context.tries > 1 ? walk.askDigits : walk.askAgain };
    }),
    promptQuestion: assign(({ context }) => {
      return { prompt: context.weighed?.question ?? wordsFor(context.locale).walk.askAgain };
    }),
    promptPass: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.noNumberNext })),
    promptStill: assign(({ context }) => ({
      prompt: wordsFor(context.locale).walk.stillListening,
    })),
    promptWhy: assign(({ context }) => ({ prompt: context.why })),
    promptNumber: assign(({ context }) => {
      const { walk } = wordsFor(context.locale);
      const parts = keptParts(context);
      return { prompt: parts.length === 0 ? walk.noNumberYet : walk.number(sumOf(parts)) };
    }),
    giveHint: assign({ hint: true }),
    dropHint: assign({ hint: false }),
    promptHelp: assign(({ context }) => ({ prompt: wordsFor(context.locale).walk.help.reading })),
    tellEnded: sendParent(({ context }): ReadingEnded => {
      return { type: 'reading.ended', outcome: outcomeOf(context) };
    }),
    shutEar: sendParent({ type: 'ear.wanted', expectation: null } satisfies EarWanted),
    openForReading: sendParent(({ context }): EarWanted => {
      const { container, ounceIn } = context;
      const fills = keptParts(context);
      return {
        type: 'ear.wanted',
        expectation: { state: 'reading', container, ounceIn, fills },
      };
    }),
    openForAnswer: sendParent(({ context }): EarWanted => {
      const { container, ounceIn } = context;
      return {
        type: 'ear.wanted',
        expectation: { state: 'readback', container, ounceIn, proposed: proposed(context) },
      };
    }),
  },
  delays: {
    /** Long enough to pour and bend down to eye level before being reminded, ms. */
    reminder: 30_000,
    /** Silence after a read-back, ms: then it is read back again, never taken for a yes. */
    answerWindow: 12_000,
  },
}).createMachine({
  id: 'reading',
  context: ({ input }) => ({
    ...input,
    kept: input.before?.fills.slice(0, -1) ?? [],
    candidate: input.before?.fills.at(-1) ?? null,
    weighed: null,
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
    paused: {
      entry: 'shutEar',
      on: {
        'reading.resume': [
          { guard: 'hasProposal', target: 'readingBack' },
          { target: 'asking', actions: 'promptAsk' },
        ],
      },
    },
    opening: { always: [{ guard: 'hasBefore', target: 'readingBack' }, 'asking'] },
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
      entry: 'openForReading',
      on: {
        'said.volume': { target: 'weighing', actions: 'takeVolume' },
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
    weighing: {
      always: [
        { guard: 'mustAsk', target: 'questioning', actions: 'countTry' },
        { target: 'readingBack' },
      ],
    },
    questioning: {
      always: [
        { guard: 'isTriedOut', target: 'parking' },
        { target: 'asking', actions: 'promptQuestion' },
      ],
    },
    readingBack: {
      entry: ['shutEar', 'keepReadBack'],
      exit: 'dropHint',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.readBack }),
        onDone: 'confirming',
        onError: { target: 'disputed', actions: 'countTry' }, // not read back: nothing to agree to
      },
    },
    confirming: {
      tags: 'micOpen',
      entry: 'openForAnswer',
      on: {
        'said.confirm': { target: 'settled', actions: 'keepAnswer' },
        'said.volume': [
          { guard: 'isFurther', target: 'weighing', actions: ['keepFill', 'takeVolume'] },
          { guard: 'isSameNumber', target: 'settled', actions: 'keepAnswer' },
          { target: 'replacing', actions: ['disputeIt', 'takeVolume'] },
        ],
        'said.dispute': { target: 'disputed', actions: 'disputeIt' },
        'said.addFill': { target: 'asking', actions: ['keepFill', 'promptAsk'] },
        'said.again': 'readingBack',
        'said.number': 'readingBack',
        'said.next': { target: 'readingBack', actions: 'giveHint' },
        'said.help': { target: 'readingBack', actions: 'giveHint' },
        'said.why': { target: 'readingBack', actions: 'giveHint' },
      },
      after: {
        answerWindow: { target: 'unanswered', actions: 'countUnanswered' },
      },
    },
    unanswered: {
      always: [{ guard: 'isUnanswered', target: 'parking' }, { target: 'readingBack' }],
    },
    replacing: {
      always: [{ guard: 'isTriedOut', target: 'parking' }, { target: 'weighing' }],
    },
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
        input: ({ context }) => ({ text: wordsFor(context.locale).walk.parked }),
        onDone: 'parked',
        onError: 'parked',
      },
    },
    settled: { type: 'final', entry: 'tellEnded' },
    parked: { type: 'final', entry: 'tellEnded' },
  },
  output: ({ context }): Settled | Parked => outcomeOf(context),
});

function outcomeOf(context: ReadingContext): Settled | Parked {
  const { candidate, answer, tries, disputed } = context;
  const findings = context.weighed?.findings ?? context.before?.findings ?? [];
  if (candidate === null || answer === null) {
    const readAt = candidate?.evidence.at ?? disputed.at(-1)?.evidence.at ?? null;
    const candidates = candidatesOf(context);
    return { outcome: 'parked', candidates, readAt, findings, tries, disputed };
  }
  return {
    outcome: 'settled',
    amount: proposed(context),
    fills: [...context.kept, candidate],
    readAt: candidate.evidence.at,
    readBack: context.readBack,
    answer: answer.words,
    answeredAt: answer.at,
    findings,
    tries,
    disputed,
  };
}
