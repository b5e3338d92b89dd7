import { assertEvent, assign, fromPromise, sendParent, setup } from 'xstate';
import type { Procedure, Step } from '../../procedures/schema.ts';
import type { PracticeRound } from '../../procedures/practice.ts';
import {
  recallResult,
  recallSaid,
  recallTold,
  startRecall,
  type Judgement,
  type Recall,
} from '../../procedures/recall.ts';
import { wordsFor, type Locale } from '../../words/words.ts';
import type { EarWanted } from '../readingMachine.ts';
import type { PracticeSaid } from './practiceSaid.ts';

export interface RecallInput {
  readonly locale: Locale;
  readonly procedure: Procedure;
}

export interface RecallContext extends RecallInput {
  readonly recall: Recall;
  /** What was made of the last words; null before the first and after a step was told. */
  readonly judgement: Judgement | null;
  /** The words that were judged. */
  readonly words: string;
  readonly picked: number;
  readonly answer: string;
}

const isComplete = ({ recall }: RecallContext): boolean => recall.next >= recall.steps.length;

function answerTo(judgement: Judgement, context: RecallContext): string {
  const { said } = wordsFor(context.locale).practice;
  switch (judgement.verdict) {
    case 'right': {
      const { recall } = context;
      const passed = recall.steps[recall.next - 1];
      return said.right(passed?.call ?? '', !isComplete(context));
    }
    case 'tooEarly':
      return said.tooEarly(judgement.skipped.length, judgement.criticalSkipped.length);
    case 'again':
      return said.namedBefore;
    case 'unclear':
      return said.unclear;
  }
}

/** The step that was passed last: the one whose reason may be asked for. */
const passedStep = ({ recall }: RecallContext): Step | undefined => recall.steps[recall.next - 1];

function roundOf({ procedure, recall, picked }: RecallContext): PracticeRound | null {
  const result = recallResult(recall);
  const nothing = recall.next === 0 && result.outOfOrder.length === 0;
  return nothing ? null : { kind: 'recall', procedure: procedure.id, result, picked };
}

/**
 * Recall: the trainee says the step that comes next before hearing it.
 *
 *   greeting ─said─► listening ─words─► judging ─► answering ─said─► (more steps?) listening
 *                      │ tell me ─► answering: the step, counted as missed
 *                      │ why, again, help … ─► answering
 *                      │ silence ─► answering: the way out
 *   after the last step: closing ─► done.   "stop" from anywhere: done
 *
 * Promise: a step is never told before the trainee named it or asked for it.
 */
export const recallMachine = setup({
  types: {
    context: {} as RecallContext,
    events: {} as PracticeSaid,
    input: {} as RecallInput,
    output: {} as PracticeRound | null,
    tags: {} as 'micOpen' | 'speaking',
  },
  actors: {
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
  },
  guards: { isComplete: ({ context }) => isComplete(context) },
  actions: {
    shutEar: sendParent({ type: 'ear.wanted', expectation: null } satisfies EarWanted),
    openForRecall: sendParent(({ context }): EarWanted => {
      const steps = context.recall.steps.map(({ keywords }) => keywords);
      return { type: 'ear.wanted', expectation: { state: 'recall', steps } };
    }),
    judgeWords: assign(({ context, event }) => {
      assertEvent(event, 'said.words');
      const { recall, judgement } = recallSaid(context.recall, event.words);
      const picked = event.picked && judgement.verdict === 'right' ? 1 : 0;
      return { recall, judgement, words: event.words, picked: context.picked + picked };
    }),
    answerJudged: assign(({ context }) => {
      const { judgement } = context;
      return judgement === null ? {} : { answer: answerTo(judgement, context) };
    }),
    tellStep: assign(({ context }) => {
      const due = context.recall.steps[context.recall.next];
      const after = { ...context, recall: recallTold(context.recall), judgement: null, words: '' };
      const { told } = wordsOf(context);
      return {
        ...after,
        answer: told(due?.call ?? '', due?.critical ?? false, !isComplete(after)),
      };
    }),
    answerWhy: assign(({ context }) => ({
      answer: passedStep(context)?.why ?? wordsOf(context).noStepYet,
    })),
    answerHelp: assign(({ context }) => ({ answer: wordsOf(context).recallHelp })),
    answerHold: assign(({ context }) => ({ answer: wordsOf(context).hold })),
    answerAlert: assign(({ context }) => ({ answer: wordsOf(context).onlyPractice })),
    answerBack: assign(({ context }) => ({ answer: wordsOf(context).noWayBack })),
    answerSilence: assign(({ context }) => ({ answer: wordsOf(context).thinking })),
  },
  delays: {
    /** Time to think before the way out is offered, ms. */
    thinking: 25_000,
  },
}).createMachine({
  id: 'recall',
  context: ({ input }) => ({
    ...input,
    recall: startRecall(input.procedure.steps),
    judgement: null,
    words: '',
    picked: 0,
    answer: wordsFor(input.locale).practice.said.recall(input.procedure.title),
  }),
  initial: 'answering',
  on: { 'said.stop': '.done' },
  states: {
    /** The assistant speaks: the greeting first, then what was made of the words. */
    answering: {
      tags: 'speaking',
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.answer }),
        onDone: 'going',
        onError: 'going', // the caption stands on the screen
      },
    },
    going: { always: [{ guard: 'isComplete', target: 'closing' }, 'listening'] },
    listening: {
      tags: 'micOpen',
      entry: 'openForRecall',
      on: {
        'said.words': { target: 'judging', actions: 'judgeWords' },
        'said.tell': { target: 'answering', actions: 'tellStep' },
        'said.again': 'answering',
        'said.why': { target: 'answering', actions: 'answerWhy' },
        'said.help': { target: 'answering', actions: 'answerHelp' },
        'said.hold': { target: 'answering', actions: 'answerHold' },
        'said.back': { target: 'answering', actions: 'answerBack' },
        'said.wrong': { target: 'answering', actions: 'answerAlert' },
      },
      after: { thinking: { target: 'answering', actions: 'answerSilence' } },
    },
    judging: { always: { target: 'answering', actions: 'answerJudged' } },
    closing: {
      tags: 'speaking',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: wordsOf(context).recallDone }),
        onDone: 'done',
        onError: 'done',
      },
    },
    done: { type: 'final', entry: 'shutEar' },
  },
  output: ({ context }) => roundOf(context),
});

const wordsOf = ({ locale }: RecallInput) => wordsFor(locale).practice.said;
