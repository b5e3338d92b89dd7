// Over 400 lines: one statechart with its outcome, read from top to bottom.
import { assertEvent, assign, fromPromise, sendParent, setup } from 'xstate';
import type { Expectation, OunceRule } from '../grammar/expectation.ts';
import type { Finding } from '../measure/finding.ts';
import type { Moment } from '../measure/moment.ts';
import type { PadProduct } from '../measure/pad.ts';
import type { Container } from '../measure/vessel.ts';
import { sumOf, type Millilitres } from '../measure/volume.ts';
import { wordsFor, type Locale } from '../words/words.ts';
import type { SaidEvent, SaidVolume } from './said.ts';
import { ofThisFill, weighed, type Circumstances, type Weighed } from './weighed.ts';

export interface ReadingInput {
  readonly locale: Locale;
  /** What it is read in; null where a pad is weighed. */
  readonly container: Container | null;
  /** What is weighed; null where lines are read. */
  readonly pad: PadProduct | null;
  readonly ounceIn: OunceRule;
  readonly circumstances: Circumstances;
  /** What is said first: the step's own call. */
  readonly call: string;
  readonly why: string;
  /** A number settled before, when the aide comes back to this step: it is read back first. */
  readonly before: Settled | null;
  /** Fills kept in a reading that was left open; what is said now is added to them. */
  readonly fills: readonly SaidVolume[];
}

/** A reading that was read back and agreed to. */
export interface Settled {
  readonly outcome: 'settled';
  readonly amount: Millilitres;
  /** Fills of one emptying, or the servings of a tray. */
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
  /** Fills that were kept before it came to nothing. */
  readonly fills: readonly SaidVolume[];
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
  /** What weighing said of the fills kept, each by itself. */
  readonly noted: readonly Finding[];
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

export type ReadingEvent =
  | SaidEvent
  | { type: 'reading.pause' }
  | { type: 'reading.resume' }
  /** Something was said that could not be made out. */
  | { type: 'reading.poor'; why: 'loud' | 'faint' };

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
  const wet = context.candidate?.wet;
  if (wet !== undefined) return walk.weigh.readBack(wet);
  const parts = proposedParts(context);
  if (parts.length > 1) return walk.readBackFills(parts, sumOf(parts));
  const digits = context.candidate !== null && needsDigits(context.candidate);
  return walk.readBack(proposed(context), digits);
}

const needsDigits = (volume: SaidVolume): boolean =>
  volume.doubtful || volume.approximate || volume.soundAlike.length > 0;

function candidatesOf(context: ReadingContext): Millilitres[] {
  const all = [...context.disputed, ...(context.candidate ? [context.candidate] : [])];
  const kept = keptParts(context);
  const sums = all.flatMap(({ candidates }) => candidates.map((mL) => sumOf([...kept, mL])));
  return [...new Set(sums.length === 0 && kept.length > 0 ? [sumOf(kept)] : sums)];
}

/** What is asked with, by what is read: lines or a scale. */
function askingWords({ locale, pad }: ReadingContext) {
  const { walk } = wordsFor(locale);
  return pad === null ? { ...walk, help: walk.help.reading } : { ...walk, ...walk.weigh };
}

/** The rates of an emptying are judged on its whole sum: those of a fill are dropped with it. */
function findingsOf({ candidate, weighed, noted, before }: ReadingContext): readonly Finding[] {
  if (candidate === null) return noted;
  return [...noted, ...(weighed?.findings ?? before?.findings ?? [])];
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
    isFurther: ({ context, event }) => {
      assertEvent(event, 'said.volume');
      return context.pad === null && event.volume.further;
    },
    takesFills: ({ context }) => context.pad === null,
    isTriedOut: ({ context }) => context.tries >= maxTries,
    isUnanswered: ({ context }) => context.unanswered >= maxTries,
    isPassed: ({ context }) => context.passes >= 1,
    mustAsk: ({ context }) => context.weighed?.question !== null,
    hasBefore: ({ context }) => context.candidate !== null,
    hasProposal: ({ context }) =>
      context.candidate !== null && (context.weighed?.question ?? null) === null,
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
      noted: ofThisFill(findingsOf(context)),
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
      const { ask, askFill } = askingWords(context);
      return { prompt: context.kept.length > 0 ? askFill(context.kept.length + 1) : ask };
    }),
    promptAgain: assign(({ context }) => {
      const { askDigits, askAgain } = askingWords(context);
      return { prompt: context.tries > 1 ? askDigits : askAgain };
    }),
    promptQuestion: assign(({ context }) => {
      return { prompt: context.weighed?.question ?? askingWords(context).askAgain };
    }),
    promptPass: assign(({ context }) => ({ prompt: askingWords(context).noNumberNext })),
    promptStill: assign(({ context }) => ({ prompt: askingWords(context).stillListening })),
    promptWhy: assign(({ context }) => ({ prompt: context.why })),
    promptNumber: assign(({ context }) => {
      const { walk } = wordsFor(context.locale);
      const parts = keptParts(context);
      return { prompt: parts.length === 0 ? walk.noNumberYet : walk.number(sumOf(parts)) };
    }),
    promptPoor: assign(({ context, event }) => {
      assertEvent(event, 'reading.poor');
      return { prompt: wordsFor(context.locale).walk.poor[event.why] };
    }),
    giveHint: assign({ hint: true }),
    dropHint: assign({ hint: false }),
    promptHelp: assign(({ context }) => ({ prompt: askingWords(context).help })),
    tellEnded: sendParent(({ context }): ReadingEnded => {
      return { type: 'reading.ended', outcome: outcomeOf(context) };
    }),
    shutEar: sendParent({ type: 'ear.wanted', expectation: null } satisfies EarWanted),
    openForReading: sendParent(({ context }): EarWanted => {
      const { container, pad, ounceIn } = context;
      const fills = keptParts(context);
      return {
        type: 'ear.wanted',
        expectation:
          container === null
            ? { state: 'weighing', pad: given(pad) }
            : { state: 'reading', container, ounceIn, fills },
      };
    }),
    openForAnswer: sendParent(({ context }): EarWanted => {
      const { container, pad, ounceIn } = context;
      return {
        type: 'ear.wanted',
        expectation:
          container === null
            ? { state: 'weighed', pad: given(pad) }
            : { state: 'readback', container, ounceIn, proposed: proposed(context) },
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
    kept: input.before?.fills.slice(0, -1) ?? input.fills,
    candidate: input.before?.fills.at(-1) ?? null,
    weighed: null,
    noted: [],
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
          { guard: 'isTriedOut', target: 'parking' },
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
        'reading.poor': { target: 'asking', actions: 'promptPoor' },
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
        'said.addFill': {
          guard: 'takesFills',
          target: 'asking',
          actions: ['keepFill', 'promptAsk'],
        },
        'said.again': 'readingBack',
        'said.number': 'readingBack',
        'said.next': { target: 'readingBack', actions: 'giveHint' },
        'said.help': { target: 'readingBack', actions: 'giveHint' },
        'said.why': { target: 'readingBack', actions: 'giveHint' },
        'reading.poor': { target: 'unclear', actions: 'promptPoor' },
      },
      after: {
        answerWindow: { target: 'unanswered', actions: 'countUnanswered' },
      },
    },
    /** The answer could not be made out: nothing is agreed to, and it is waited for once more. */
    unclear: {
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.prompt }),
        onDone: 'confirming',
        onError: 'confirming',
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

function given(pad: PadProduct | null): PadProduct {
  if (pad === null) throw new Error('reading_of_nothing: a container or a pad is chosen before');
  return pad;
}

function outcomeOf(context: ReadingContext): Settled | Parked {
  const { candidate, answer, tries, disputed } = context;
  const findings = findingsOf(context);
  if (candidate === null || answer === null) {
    const readAt =
      candidate?.evidence.at ??
      disputed.at(-1)?.evidence.at ??
      context.kept.at(-1)?.evidence.at ??
      null;
    const candidates = candidatesOf(context);
    const fills = context.kept;
    return { outcome: 'parked', candidates, fills, readAt, findings, tries, disputed };
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
