import { assertEvent, assign, enqueueActions, fromPromise, sendTo, setup } from 'xstate';
import type { Expectation } from '../grammar/expectation.ts';
import { alertsRaised, isAlertCode, type AlertCode } from '../measure/alerts.ts';
import { alertsOfLooks, isLookCode } from '../measure/looks.ts';
import type { Moment } from '../measure/moment.ts';
import { wordsFor } from '../words/words.ts';
import { earMachine, type EarReport } from './earMachine.ts';
import {
  readingMachine,
  type EarWanted,
  type ReadingEnded,
  type ReadingInput,
} from './readingMachine.ts';
import type { SaidEvent } from './said.ts';
import { freshContext, stepOf, type WalkContext, type WalkInput } from './walkContext.ts';
import { nurseText, numberText, settledText, withWhom } from './walkWords.ts';

export type WalkEvent =
  | SaidEvent
  | EarReport
  | EarWanted
  | ReadingEnded
  /** The device could not keep the walk, or can again. */
  | { type: 'keep.failed' }
  | { type: 'keep.mended' }
  /** A person gives up this walk. */
  | { type: 'walk.abandon'; reason: string };

/** What the ledger needs for the entry: the walk's own record, whole. */
export interface SaveInput {
  readonly context: WalkContext;
}

/**
 * The walk through one procedure.
 *
 *   calling ─said─► listening ─next─► calling …            (a reading step: reading)
 *      ▲              │ why, again, number, help ─► answering ─► listening
 *      │              │ hold, alert ─► holding ─► held ─carry on─► where it was
 *   reading ─ended─► calling …   documenting: saving ─► calling … ─► done
 *                                  │ still open: settling (hands are clean) ─► saving
 *                                  └ refused: unsaved ─ again by itself ─► saving
 *
 * Promise: nothing but a whole phrase of this very state moves it; what was settled stays in the
 * context from the moment it was agreed to, and is handed to `save` until the ledger has it.
 * `say`, `save`, `raise`, `interpret` and the ear's engine are ports.
 */
export const walkMachine = setup({
  types: {
    context: {} as WalkContext,
    events: {} as WalkEvent,
    input: {} as WalkInput,
    tags: {} as 'micOpen' | 'speaking' | 'held' | 'reading',
    children: {} as { ear: 'ear'; reading: 'reading' },
  },
  actors: {
    ear: earMachine,
    reading: readingMachine,
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
    save: fromPromise<Moment, SaveInput>(() => Promise.reject(new Error('no save given'))),
    raise: fromPromise<void, SaveInput>(() => Promise.reject(new Error('no raise given'))),
  },
  guards: {
    isLastStep: ({ context }) => context.index >= context.procedure.steps.length - 1,
    isFirstStep: ({ context }) => context.index === 0,
    atReading: ({ context }) => stepOf(context).kind === 'reading',
    atDocument: ({ context }) => stepOf(context).kind === 'document',
    atLook: ({ context }) => stepOf(context).kind === 'look',
    seesTrouble: ({ context, event }) => {
      assertEvent(event, 'said.look');
      return (
        stepOf(context).kind === 'look' && alertsOfLooks(event.codes.filter(isLookCode)).length > 0
      );
    },
    inReading: ({ context }) => context.readingOpen,
    isOpen: ({ context }) => context.settled === null && context.container !== null,
    isSaved: ({ context }) => context.savedAt !== null,
  },
  actions: {
    /** A port: the app judges the utterance by its grammars and raises what was said. */
    interpret: () => {
      throw new Error('no interpret given');
    },
    forward: assign(({ context }) => ({ index: context.index + 1, talk: null })),
    stepBack: assign(({ context }) => ({ index: Math.max(0, context.index - 1), talk: null })),
    clearLead: assign({ lead: '' }),
    leadResumed: assign(({ context }) => ({ lead: wordsFor(context.locale).walk.carriedOn })),
    leadFirst: assign(({ context }) => ({ lead: wordsFor(context.locale).walk.firstStep })),
    leadSaved: assign(({ context, event }) => {
      const { walk } = wordsFor(context.locale);
      const amount = context.settled?.amount;
      const savedAt = (event as unknown as { output: Moment }).output;
      return { savedAt, lead: amount === undefined ? walk.savedOpen : walk.saved(amount) };
    }),
    answerWhy: assign(({ context }) => ({ answer: stepOf(context).why })),
    answerHelp: assign(({ context }) => ({ answer: wordsFor(context.locale).walk.help.step })),
    answerNumber: assign(({ context }) => ({ answer: numberText(context) })),
    noteLook: assign(({ context, event }) => {
      assertEvent(event, 'said.look');
      const { codes, words, at } = event;
      return {
        looks: [...context.looks, { codes, words, at }],
        answer: wordsFor(context.locale).walk.lookNoted(words),
      };
    }),
    noteTrouble: assign(({ context, event }) => {
      assertEvent(event, 'said.look');
      const codes = alertsOfLooks(event.codes.filter(isLookCode));
      return withAlerts(context, codes, event.words, event.at);
    }),
    noteAlert: assign(({ context, event }) => {
      assertEvent(event, ['said.alert', 'said.wrong']);
      const code = event.type === 'said.wrong' ? 'somethingWrong' : event.code;
      const known = isAlertCode(code) ? code : 'somethingWrong';
      const codes = alertsRaised(known, context.dysreflexiaRisk);
      return withAlerts(context, codes, event.words, event.at);
    }),
    alertsKept: assign(({ context }) => ({
      alerts: context.alerts.map((alert) => ({ ...alert, kept: true })),
    })),
    answerHeld: assign(({ context }) => ({ answer: wordsFor(context.locale).walk.held })),
    noteTalk: assign(({ event }) => {
      assertEvent(event, 'said.talk');
      return { talk: event.words };
    }),
    forgetTalk: assign({ talk: null }),
    keepOutcome: assign(({ context, event }) => {
      assertEvent(event, 'reading.ended');
      const { outcome } = event;
      if (outcome.outcome === 'parked') return { parked: outcome, readingOpen: false, lead: '' };
      const lead = settledText(outcome, context.locale, context.nurse);
      return { settled: outcome, parked: null, readingOpen: false, lead };
    }),
    beginReading: enqueueActions(({ context, enqueue }) => {
      if (context.readingOpen) return;
      enqueue.spawnChild('reading', { id: 'reading', input: readingInput(context) });
      enqueue.assign({ readingOpen: true });
    }),
    endReading: enqueueActions(({ context, enqueue }) => {
      if (!context.readingOpen) return;
      enqueue.stopChild('reading');
      enqueue.assign({ readingOpen: false });
    }),
    toReading: sendTo('reading', ({ event }) => event as SaidEvent),
    pauseReading: enqueueActions(({ context, enqueue }) => {
      if (context.readingOpen) enqueue.sendTo('reading', { type: 'reading.pause' });
    }),
    resumeReading: sendTo('reading', { type: 'reading.resume' }),
    steerEar: sendTo('ear', ({ event }) => {
      assertEvent(event, 'ear.wanted');
      return event.expectation === null
        ? { type: 'ear.shut' as const }
        : { type: 'ear.open' as const, expectation: event.expectation };
    }),
    shutEar: sendTo('ear', { type: 'ear.shut' }),
    openForStep: sendTo('ear', ({ context }) => {
      const look = stepOf(context).kind === 'look';
      const expectation: Expectation = look ? { state: 'look' } : { state: 'step' };
      return { type: 'ear.open' as const, expectation };
    }),
    openForHeld: sendTo('ear', { type: 'ear.open', expectation: { state: 'held' } }),
    noteDeaf: assign(({ event }) => {
      assertEvent(event, 'ear.deaf');
      return { deaf: event.fault };
    }),
    noteHearing: assign({ deaf: null, poor: null }),
    notePoor: assign(({ event }) => {
      assertEvent(event, 'ear.poor');
      return { poor: event.why };
    }),
    noteKeepFailed: assign({ keepFailing: true }),
    noteKeepMended: assign({ keepFailing: false }),
    countSaveFailure: assign(({ context }) => ({ saveFailures: context.saveFailures + 1 })),
  },
  delays: {
    /** Between two tries to save: 2 s, growing to 30 s, ms. */
    saveAgain: ({ context }) => Math.min(2_000 * Math.max(1, context.saveFailures), 30_000),
  },
}).createMachine({
  id: 'walk',
  context: ({ input }) => freshContext(input),
  initial: 'starting',
  invoke: { id: 'ear', src: 'ear' },
  on: {
    'ear.wanted': { actions: 'steerEar' },
    'ear.heard': { actions: 'interpret' },
    'ear.listening': { actions: 'noteHearing' },
    'ear.deaf': { actions: 'noteDeaf' },
    'ear.poor': { actions: 'notePoor' },
    'keep.failed': { actions: 'noteKeepFailed' },
    'keep.mended': { actions: 'noteKeepMended' },
    'said.talk': { actions: 'noteTalk' },
    'said.alert': { target: '.raising', actions: ['pauseReading', 'noteAlert'] },
    'said.wrong': { target: '.raising', actions: ['pauseReading', 'noteAlert'] },
    'walk.abandon': { target: '.abandoned', actions: 'endReading' },
  },
  states: {
    starting: {
      tags: 'speaking',
      invoke: {
        src: 'say',
        input: ({ context }) => ({
          text: wordsFor(context.locale).walk.start(context.procedure.title, context.bed.label),
        }),
        onDone: 'arriving',
        onError: 'arriving', // the caption stands on the screen
      },
    },
    /** Which kind of step is this? */
    arriving: {
      always: [
        { guard: 'atReading', target: 'reading' },
        { guard: 'atDocument', target: 'documenting' },
        { target: 'calling' },
      ],
    },
    calling: {
      tags: 'speaking',
      entry: 'shutEar',
      exit: 'clearLead',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: callText(context) }),
        onDone: 'listening',
        onError: 'listening',
      },
      on: { 'said.next': { target: 'advancing' }, 'said.back': 'returning' },
    },
    listening: {
      tags: 'micOpen',
      entry: 'openForStep',
      on: {
        'said.next': { target: 'advancing', actions: 'forgetTalk' },
        'said.again': 'calling',
        'said.why': { target: 'answering', actions: 'answerWhy' },
        'said.help': { target: 'answering', actions: 'answerHelp' },
        'said.number': { target: 'answering', actions: 'answerNumber' },
        'said.back': 'returning',
        'said.hold': { target: 'holding', actions: 'answerHeld' },
        'said.look': [
          { guard: 'seesTrouble', target: 'raising', actions: ['noteLook', 'noteTrouble'] },
          { guard: 'atLook', target: 'answering', actions: 'noteLook' },
        ],
      },
    },
    advancing: {
      always: [
        { guard: 'isLastStep', target: 'done' },
        { target: 'arriving', actions: 'forward' },
      ],
    },
    returning: {
      always: [
        { guard: 'isFirstStep', target: 'calling', actions: 'leadFirst' },
        { target: 'arriving', actions: 'stepBack' },
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
    },
    reading: {
      tags: 'reading',
      entry: 'beginReading',
      on: {
        'said.volume': { actions: 'toReading' },
        'said.confirm': { actions: 'toReading' },
        'said.dispute': { actions: 'toReading' },
        'said.addFill': { actions: 'toReading' },
        'said.again': { actions: 'toReading' },
        'said.help': { actions: 'toReading' },
        'said.next': { actions: 'toReading' },
        'said.number': { actions: 'toReading' },
        'said.why': { actions: 'toReading' },
        'said.back': { target: 'returning', actions: 'endReading' },
        'said.hold': { target: 'holding', actions: ['pauseReading', 'answerHeld'] },
        'reading.ended': { target: 'advancing', actions: 'keepOutcome' },
      },
    },
    /** First into the ledger; what it refuses now goes in with the entry. */
    raising: {
      tags: 'held',
      entry: 'shutEar',
      invoke: {
        src: 'raise',
        input: ({ context }) => ({ context }),
        onDone: { target: 'holding', actions: 'alertsKept' },
        onError: 'holding',
      },
    },
    /** The assistant says why it holds: asked to, or something is to be told to the nurse. */
    holding: {
      tags: ['speaking', 'held'],
      entry: 'shutEar',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.answer }),
        onDone: 'held',
        onError: 'held',
      },
    },
    held: {
      tags: ['micOpen', 'held'],
      entry: 'openForHeld',
      on: {
        'said.carryOn': [
          { guard: 'inReading', target: 'reading', actions: 'resumeReading' },
          { target: 'arriving', actions: 'leadResumed' },
        ],
        'said.again': { target: 'holding' },
        'said.number': { target: 'holding', actions: 'answerNumber' },
      },
    },
    documenting: {
      always: [
        { guard: 'isSaved', target: 'advancing' },
        { guard: 'isOpen', target: 'settling' },
        { target: 'saving' },
      ],
    },
    /** Hands are clean: the open number is settled by voice, by typing or by a button. */
    settling: {
      tags: 'reading',
      entry: 'beginReading',
      on: {
        'said.volume': { actions: 'toReading' },
        'said.confirm': { actions: 'toReading' },
        'said.dispute': { actions: 'toReading' },
        'said.addFill': { actions: 'toReading' },
        'said.again': { actions: 'toReading' },
        'said.help': { actions: 'toReading' },
        'said.next': { actions: 'toReading' },
        'said.number': { actions: 'toReading' },
        'said.why': { actions: 'toReading' },
        'said.back': { target: 'returning', actions: 'endReading' },
        'said.hold': { target: 'holding', actions: ['pauseReading', 'answerHeld'] },
        'reading.ended': { target: 'saving', actions: 'keepOutcome' },
      },
    },
    saving: {
      entry: 'shutEar',
      invoke: {
        src: 'save',
        input: ({ context }) => ({ context }),
        onDone: { target: 'saved', actions: 'leadSaved' },
        onError: { target: 'unsaved', actions: 'countSaveFailure' },
      },
    },
    saved: {
      tags: 'speaking',
      exit: 'clearLead',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: context.lead }),
        onDone: 'advancing',
        onError: 'advancing',
      },
    },
    unsaved: {
      tags: 'speaking',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: wordsFor(context.locale).walk.unsaved }),
      },
      on: { 'said.again': 'saving' },
      after: { saveAgain: 'saving' },
    },
    done: { type: 'final', entry: 'shutEar' },
    abandoned: { type: 'final', entry: 'shutEar' },
  },
});

/** The alerts are kept with their moment, and the answer says what to do about each. */
function withAlerts(
  context: WalkContext,
  codes: readonly AlertCode[],
  words: string,
  at: Moment,
): Pick<WalkContext, 'alerts' | 'answer'> {
  const raised = codes.map((code) => ({ code, words, at, kept: false }));
  const answer = wordsFor(context.locale).walk.nurse(
    withWhom(codes.map(nurseText).join(' '), context.nurse),
  );
  return { alerts: [...context.alerts, ...raised], answer };
}

function callText(context: WalkContext): string {
  const { call } = stepOf(context);
  return context.lead === '' ? call : `${context.lead} ${call}`;
}

function readingInput(context: WalkContext): ReadingInput {
  const { locale, container, ounceIn, circumstances, settled } = context;
  if (container === null) throw new Error('reading_without_container: chosen before the gloves');
  const step = stepOf(context);
  const { walk } = wordsFor(locale);
  const open = step.kind === 'document' ? walk.openAtEnd : step.call;
  const call = context.lead === '' ? open : `${context.lead} ${open}`;
  return { locale, container, ounceIn, circumstances, call, why: step.why, before: settled };
}
