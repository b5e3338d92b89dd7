import { assertEvent, assign, fromPromise, sendParent, setup } from 'xstate';
import type { Millilitres } from '../../measure/volume.ts';
import type { DrillReading, PracticeRound } from '../../procedures/practice.ts';
import { judgeDrill } from '../../procedures/readingDrill.ts';
import { wordsFor, type Locale } from '../../words/words.ts';
import type { EarWanted } from '../readingMachine.ts';
import type { SaidVolume } from '../said.ts';
import { drillAnswer } from './drillAnswer.ts';
import type { DrillPlan } from './plan.ts';
import type { PracticeSaid } from './practiceSaid.ts';

export interface DrillInput extends Omit<DrillPlan, 'mode'> {
  readonly locale: Locale;
}

export interface DrillContext extends DrillInput {
  readonly index: number;
  /** The volume under discussion, not agreed to yet. */
  readonly candidate: SaidVolume | null;
  readonly readings: readonly DrillReading[];
  /** What is said on entering `asking` or `told`. */
  readonly prompt: string;
}

/** The level drawn now, mL. */
export function drawnLevel({ levels, index }: DrillContext): Millilitres {
  const level = levels[index];
  if (level === undefined) throw new Error(`drill_past_end: level ${index}`);
  return level;
}

/** The reading of the level drawn now, once it was judged. */
export function judgedReading({ readings, index }: DrillContext): DrillReading | null {
  return readings[index] ?? null;
}

function candidateOf({ candidate }: DrillContext): Millilitres {
  const mL = candidate?.mL;
  if (mL === null || mL === undefined) throw new Error('drill_without_volume: nothing was said');
  return mL;
}

/** With its digits where the ear or the number may mislead. */
function readBackOf(context: DrillContext): string {
  const { candidate, locale } = context;
  const digits = candidate !== null && (candidate.doubtful || candidate.soundAlike.length > 0);
  return wordsFor(locale).walk.readBack(candidateOf(context), digits);
}

function roundOf({ container, seed, tolerance, readings }: DrillContext): PracticeRound | null {
  if (readings.length === 0) return null;
  return { kind: 'drill', container: container.id, seed, tolerance, readings };
}

/**
 * The reading drill: a level is drawn, the trainee reads it aloud.
 *
 *   asking ─said─► listening ─volume─► weighing ─► readingBack ─said─► confirming
 *     ▲               │ not sure ─► asking           ▲ again              │ correct, the same number
 *     │                                              └── other number     ▼
 *     └──────────────── moving ◄─next── told ◄─said── telling ◄──────── judging
 *   after the last level: closing ─► done.   "stop" from anywhere: done
 *
 * Promise: only a number that the trainee agreed to is judged, so an ear that misheard counts
 * against nobody.
 */
export const drillMachine = setup({
  types: {
    context: {} as DrillContext,
    events: {} as PracticeSaid,
    input: {} as DrillInput,
    output: {} as PracticeRound | null,
    tags: {} as 'micOpen' | 'speaking',
  },
  actors: {
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  guards: {
    isLastLevel: ({ context }) => context.index >= context.levels.length - 1,
    isUnclear: ({ context }) => context.candidate?.mL === null,
    isApproximate: ({ context }) => context.candidate?.approximate === true,
    isSameNumber: ({ context, event }) => {
      assertEvent(event, 'said.volume');
      return event.volume.mL === context.candidate?.mL && !event.volume.approximate;
    },
  },
  actions: {
    shutEar: sendParent({ type: 'ear.wanted', expectation: null } satisfies EarWanted),
    openForReading: sendParent(({ context: { container, ounceIn } }): EarWanted => {
      const expectation = { state: 'reading', container, ounceIn, fills: [] } as const;
      return { type: 'ear.wanted', expectation };
    }),
    openForAnswer: sendParent(({ context }): EarWanted => {
      const { container, ounceIn } = context;
      const proposed = candidateOf(context);
      const expectation = { state: 'readback', container, ounceIn, proposed } as const;
      return { type: 'ear.wanted', expectation };
    }),
    openForNext: sendParent({
      type: 'ear.wanted',
      expectation: { state: 'practice' },
    } satisfies EarWanted),
    takeVolume: assign(({ event }) => {
      assertEvent(event, 'said.volume');
      return { candidate: event.volume };
    }),
    dropVolume: assign({ candidate: null }),
    judgeReading: assign(({ context }) => {
      const { container, rounding, tolerance } = context;
      const level = drawnLevel(context);
      const said = candidateOf(context);
      const judgement = judgeDrill(container, level, said, rounding, tolerance);
      return { readings: [...context.readings, { level, said, judgement }], candidate: null };
    }),
    nextLevel: assign(({ context }) => {
      const index = context.index + 1;
      return { index, prompt: wordsOf(context).ask(index + 1, context.levels.length) };
    }),
    promptAsk: assign(({ context }) => ({
      prompt: wordsOf(context).ask(context.index + 1, context.levels.length),
    })),
    promptAgain: assign(({ context }) => ({ prompt: wordsOf(context).askAgain })),
    promptUnclear: assign(({ context }) => {
      const candidates = context.candidate?.candidates ?? [];
      const { walk, practice } = wordsFor(context.locale);
      const prompt = candidates.length > 0 ? walk.whichOf(candidates) : practice.said.unclearVolume;
      return { prompt };
    }),
    promptAbout: assign(({ context }) => ({ prompt: wordsOf(context).notAbout })),
    promptWhy: assign(({ context }) => ({ prompt: wordsOf(context).readingWhy })),
    promptHelp: assign(({ context }) => ({ prompt: wordsOf(context).readingHelp })),
    promptFirst: assign(({ context }) => ({ prompt: wordsOf(context).sayVolumeFirst })),
    promptHold: assign(({ context }) => ({ prompt: wordsOf(context).hold })),
    promptAlert: assign(({ context }) => ({ prompt: wordsOf(context).onlyPractice })),
    promptCorrect: assign(({ context }) => ({ prompt: wordsOf(context).sayCorrect })),
    promptNext: assign(({ context }) => ({ prompt: wordsOf(context).sayNext })),
    promptJudged: assign(({ context }) => {
      const reading = judgedReading(context);
      if (reading === null) throw new Error('drill_without_reading: nothing was judged');
      return { prompt: drillAnswer(reading, context.tolerance, context.locale) };
    }),
  },
}).createMachine({
  id: 'drill',
  context: ({ input }) => ({
    ...input,
    index: 0,
    candidate: null,
    readings: [],
    prompt: wordsFor(input.locale).practice.said.drill(input.levels.length),
  }),
  initial: 'asking',
  on: { 'said.stop': '.done' },
  states: {
    asking: {
      tags: 'speaking',
      entry: ['shutEar', 'dropVolume'],
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.prompt }),
        onDone: 'listening',
        onError: 'listening', // the caption stands on the screen
      },
    },
    listening: {
      tags: 'micOpen',
      entry: 'openForReading',
      on: {
        'said.volume': { target: 'weighing', actions: 'takeVolume' },
        'said.again': { target: 'asking', actions: 'promptAsk' },
        'said.why': { target: 'asking', actions: 'promptWhy' },
        'said.help': { target: 'asking', actions: 'promptHelp' },
        'said.hold': { target: 'asking', actions: 'promptHold' },
        'said.wrong': { target: 'asking', actions: 'promptAlert' },
        'said.alert': { target: 'asking', actions: 'promptAlert' },
        'said.back': { target: 'asking', actions: 'promptAsk' },
        'said.next': { target: 'asking', actions: 'promptFirst' },
        'said.number': { target: 'asking', actions: 'promptFirst' },
        'said.addFill': { target: 'asking', actions: 'promptFirst' },
        'said.noMore': { target: 'asking', actions: 'promptFirst' },
      },
    },
    weighing: {
      always: [
        { guard: 'isUnclear', target: 'asking', actions: 'promptUnclear' },
        { guard: 'isApproximate', target: 'asking', actions: 'promptAbout' },
        { target: 'readingBack' },
      ],
    },
    readingBack: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: readBackOf(context) }),
        onDone: 'confirming',
        onError: 'confirming', // the number stands on the screen
      },
    },
    confirming: {
      tags: 'micOpen',
      entry: 'openForAnswer',
      on: {
        'said.confirm': 'judging',
        'said.volume': [
          { guard: 'isSameNumber', target: 'judging' },
          { target: 'weighing', actions: 'takeVolume' },
        ],
        'said.dispute': { target: 'asking', actions: 'promptAgain' },
        'said.again': 'readingBack',
        'said.number': 'readingBack',
        'said.help': { target: 'hinting', actions: 'promptCorrect' },
        'said.hold': { target: 'hinting', actions: 'promptHold' },
        'said.wrong': { target: 'hinting', actions: 'promptAlert' },
        'said.alert': { target: 'hinting', actions: 'promptAlert' },
      },
    },
    /** Something else is answered; the read-back still stands. */
    hinting: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.prompt }),
        onDone: 'confirming',
        onError: 'confirming',
      },
    },
    judging: { always: { target: 'telling', actions: ['judgeReading', 'promptJudged'] } },
    telling: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.prompt }),
        onDone: 'told',
        onError: 'told',
      },
      on: { 'said.next': 'moving' },
    },
    /** The picture stays, with the line beside it, until the trainee has seen enough. */
    told: {
      tags: 'micOpen',
      entry: 'openForNext',
      on: {
        'said.next': 'moving',
        'said.again': { target: 'telling', actions: 'promptJudged' },
        'said.number': { target: 'telling', actions: 'promptJudged' },
        'said.why': { target: 'telling', actions: 'promptWhy' },
        'said.back': { target: 'telling', actions: 'promptNext' },
        'said.help': { target: 'telling', actions: 'promptNext' },
        'said.hold': { target: 'telling', actions: 'promptHold' },
        'said.wrong': { target: 'telling', actions: 'promptAlert' },
        'said.alert': { target: 'telling', actions: 'promptAlert' },
      },
    },
    moving: {
      always: [
        { guard: 'isLastLevel', target: 'closing' },
        { target: 'asking', actions: 'nextLevel' },
      ],
    },
    closing: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: wordsOf(context).drillDone }),
        onDone: 'done',
        onError: 'done',
      },
    },
    done: { type: 'final', entry: 'shutEar' },
  },
  output: ({ context }) => roundOf(context),
});

const wordsOf = ({ locale }: DrillInput) => wordsFor(locale).practice.said;
