// Over 400 lines: one statechart, read from top to bottom; what it says and moves stands beside it.
import { assertEvent, assign, enqueueActions, fromPromise, sendTo, setup, stopChild } from 'xstate';
import type { Expectation } from '../grammar/expectation.ts';
import { alertsOfLooks, isLookCode } from '../measure/looks.ts';
import type { Moment } from '../measure/moment.ts';
import { errors } from '../words/errors.ts';
import { wordsFor } from '../words/words.ts';
import { earMachine, type EarReport } from './earMachine.ts';
import { readingMachine, type EarWanted, type ReadingEnded } from './readingMachine.ts';
import type { SaidEvent } from './said.ts';
import { signingMachine, type SigningEnded } from './signingMachine.ts';
import { trayMachine } from './trayMachine.ts';
import { freshContext, stepOf, type WalkContext, type WalkInput } from './walkContext.ts';
import {
  alertsOf,
  amountStep,
  handedBack,
  handedOver,
  readingInput,
  successorOf,
  takenBy,
  trayInput,
  withAlerts,
  withOutcome,
} from './walkMoves.ts';
import { helpText, numberText, savedText } from './walkWords.ts';

export type WalkEvent =
  | SaidEvent
  | EarReport
  | EarWanted
  | ReadingEnded
  | SigningEnded
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
 *                                  │ the unit asks for initials by voice: signing ─► saving
 *                                  └ refused: unsaved ─ again by itself ─► saving
 *
 * A weighed pad is a reading, a tray has its machine, a count is a step that is confirmed; a check that
 * fails hands over to another procedure, and going back at once takes that back.
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
    children: {} as { ear: 'ear'; reading: 'reading'; tray: 'tray'; signing: 'signing' },
  },
  actors: {
    ear: earMachine,
    reading: readingMachine,
    tray: trayMachine,
    signing: signingMachine,
    say: fromPromise<void, { text: string }>(() => Promise.reject(new Error('no say given'))),
    save: fromPromise<Moment, SaveInput>(() => Promise.reject(new Error('no save given'))),
    raise: fromPromise<void, SaveInput>(() => Promise.reject(new Error('no raise given'))),
  },
  guards: {
    isLastStep: ({ context }) => context.index >= context.procedure.steps.length - 1,
    isFirstStep: ({ context }) => context.index === 0,
    atAmount: ({ context }) => stepOf(context) === amountStep(context.procedure),
    atCount: ({ context }) => stepOf(context).kind === 'count',
    mustCount: ({ context }) => stepOf(context).kind === 'count' && context.counted === null,
    canHandOver: ({ context }) => successorOf(context) !== undefined,
    isLanding: ({ context }) => context.handover?.landed === context.index,
    atDocument: ({ context }) => stepOf(context).kind === 'document',
    atLook: ({ context }) => stepOf(context).kind === 'look',
    seesTrouble: ({ context, event }) => {
      assertEvent(event, 'said.look');
      return (
        stepOf(context).kind === 'look' && alertsOfLooks(event.codes.filter(isLookCode)).length > 0
      );
    },
    inReading: ({ context }) => context.readingOpen,
    inSettling: ({ context }) => context.readingOpen && stepOf(context).kind === 'document',
    isOpen: ({ context }) =>
      context.settled === null && amountStep(context.procedure) !== undefined,
    mustSign: ({ context }) => context.roster !== null && context.reader === null,
    isSaved: ({ context }) => context.savedAt !== null,
    /** Said once: a television would else have it said again and again. */
    isFirstPoor: ({ context }) => context.poor === null,
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
      const savedAt = (event as unknown as { output: Moment }).output;
      return { savedAt, lead: savedText(context) };
    }),
    answerWhy: assign(({ context }) => ({ answer: stepOf(context).why })),
    answerHelp: assign(({ context }) => ({
      answer: helpText(context, stepOf(context).kind, successorOf(context) !== undefined),
    })),
    answerCount: assign(({ context }) => ({ answer: wordsFor(context.locale).walk.help.count })),
    countEpisode: assign(({ context, event }) => {
      assertEvent(event, 'said.confirm');
      const { words, at } = event;
      return { counted: { words, at }, lead: wordsFor(context.locale).walk.count.counted };
    }),
    handOver: assign(({ context, event }) => {
      assertEvent(event, 'said.otherwise');
      return handedOver(context, event.words, event.at);
    }),
    handBack: assign(({ context }) =>
      context.handover === null ? {} : handedBack(context, context.handover),
    ),
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
      return withAlerts(context, alertsOf(code, context), event.words, event.at);
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
      return withOutcome(context, event.outcome);
    }),
    beginReading: enqueueActions(({ context, enqueue }) => {
      if (context.readingOpen) return;
      if (takenBy(context) === 'tray') {
        enqueue.spawnChild('tray', { id: 'tray', input: trayInput(context) });
      } else {
        enqueue.spawnChild('reading', { id: 'reading', input: readingInput(context) });
      }
      enqueue.assign({ readingOpen: true });
    }),
    endReading: enqueueActions(({ context, enqueue }) => {
      if (!context.readingOpen) return;
      enqueue.stopChild(takenBy(context));
      enqueue.assign({ readingOpen: false });
    }),
    toReading: sendTo(
      ({ context }) => takenBy(context),
      ({ event }) => event as SaidEvent,
    ),
    pauseReading: enqueueActions(({ context, enqueue }) => {
      if (context.readingOpen) enqueue.sendTo(takenBy(context), { type: 'reading.pause' });
    }),
    resumeReading: sendTo(({ context }) => takenBy(context), { type: 'reading.resume' }),
    beginSigning: enqueueActions(({ context: { locale, roster }, enqueue }) => {
      const input = { locale, roster: roster ?? [] };
      enqueue.spawnChild('signing', { id: 'signing', input });
    }),
    endSigning: stopChild('signing'),
    toSigning: sendTo('signing', ({ event }) => event as SaidEvent),
    keepReader: assign(({ event }) => {
      assertEvent(event, 'signing.ended');
      return { reader: event.initials };
    }),
    steerEar: sendTo('ear', ({ event }) => {
      assertEvent(event, 'ear.wanted');
      return event.expectation === null
        ? { type: 'ear.shut' as const }
        : { type: 'ear.open' as const, expectation: event.expectation };
    }),
    shutEar: sendTo('ear', { type: 'ear.shut' }),
    openForStep: sendTo('ear', ({ context }) => {
      return { type: 'ear.open' as const, expectation: expectedAt(context) };
    }),
    openForHeld: sendTo('ear', { type: 'ear.open', expectation: { state: 'held' } }),
    noteDeaf: assign(({ event }) => {
      assertEvent(event, 'ear.deaf');
      return { deaf: event.fault };
    }),
    noteHearing: assign({ deaf: null }),
    /** What was understood was heard well enough. */
    noteClear: assign(({ context, event }) => {
      assertEvent(event, 'ear.heard');
      return { poor: event.hearing.fit === 'taken' ? null : context.poor };
    }),
    forgetPoor: assign({ poor: null }),
    notePoor: assign(({ event }) => {
      assertEvent(event, 'ear.poor');
      return { poor: event.why };
    }),
    answerPoor: assign(({ context, event }) => {
      assertEvent(event, 'ear.poor');
      return { answer: wordsFor(context.locale).walk.poor[event.why] };
    }),
    poorToReading: sendTo(
      ({ context }) => takenBy(context),
      ({ event }) => {
        assertEvent(event, 'ear.poor');
        return { type: 'reading.poor' as const, why: event.why };
      },
    ),
    answerDeaf: assign(({ event }) => {
      assertEvent(event, 'ear.deaf');
      return { answer: `${errors[event.fault].title}. ${errors[event.fault].todo}` };
    }),
    noteKeepFailed: assign(({ context }) => {
      const { notKept } = wordsFor(context.locale).walk;
      return { keepFailing: true, answer: notKept, lead: `${notKept} ${context.lead}`.trim() };
    }),
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
    'ear.heard': { actions: ['interpret', 'noteClear'] },
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
        { guard: 'atAmount', target: 'reading' },
        { guard: 'atDocument', target: 'documenting' },
        { target: 'calling' },
      ],
    },
    calling: {
      tags: 'speaking',
      entry: ['shutEar', 'forgetPoor'],
      exit: 'clearLead',
      invoke: {
        src: 'say',
        input: ({ context }) => ({ text: callText(context) }),
        onDone: 'listening',
        onError: 'listening',
      },
      on: {
        'said.next': [{ guard: 'mustCount' }, { target: 'advancing' }],
        'said.back': 'returning',
      },
    },
    listening: {
      tags: 'micOpen',
      entry: 'openForStep',
      on: {
        'said.next': [
          { guard: 'mustCount', target: 'answering', actions: 'answerCount' },
          { target: 'advancing', actions: 'forgetTalk' },
        ],
        'said.confirm': {
          guard: 'atCount',
          target: 'advancing',
          actions: ['forgetTalk', 'countEpisode'],
        },
        'said.dispute': { guard: 'atCount', target: 'answering', actions: 'answerCount' },
        'said.otherwise': { guard: 'canHandOver', target: 'arriving', actions: 'handOver' },
        'said.again': 'calling',
        'said.why': { target: 'answering', actions: 'answerWhy' },
        'said.help': { target: 'answering', actions: 'answerHelp' },
        'said.number': { target: 'answering', actions: 'answerNumber' },
        'said.back': 'returning',
        'said.hold': { target: 'holding', actions: 'answerHeld' },
        'ear.deaf': { target: 'answering', actions: ['noteDeaf', 'answerDeaf'] },
        'ear.poor': {
          guard: 'isFirstPoor',
          target: 'answering',
          actions: ['notePoor', 'answerPoor'],
        },
        'keep.failed': { target: 'answering', actions: ['noteKeepFailed', 'clearLead'] },
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
        { guard: 'isLanding', target: 'arriving', actions: 'handBack' },
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
        'said.noMore': { actions: 'toReading' },
        'said.otherwise': {
          guard: 'canHandOver',
          target: 'arriving',
          actions: ['endReading', 'handOver'],
        },
        'said.back': { target: 'returning', actions: 'endReading' },
        'said.hold': { target: 'holding', actions: ['pauseReading', 'answerHeld'] },
        'reading.ended': { target: 'advancing', actions: 'keepOutcome' },
        // What can not be heard can not be read: the reading waits for whoever mends the ear.
        'ear.deaf': { target: 'holding', actions: ['pauseReading', 'noteDeaf', 'answerDeaf'] },
        'ear.poor': { guard: 'isFirstPoor', actions: ['notePoor', 'poorToReading'] },
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
          { guard: 'inSettling', target: 'settling', actions: 'resumeReading' },
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
        { target: 'closing' },
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
        'said.noMore': { actions: 'toReading' },
        'said.back': { target: 'returning', actions: 'endReading' },
        'said.hold': { target: 'holding', actions: ['pauseReading', 'answerHeld'] },
        'reading.ended': { target: 'closing', actions: 'keepOutcome' },
        'ear.deaf': { target: 'holding', actions: ['pauseReading', 'noteDeaf', 'answerDeaf'] },
        'ear.poor': { guard: 'isFirstPoor', actions: ['notePoor', 'poorToReading'] },
      },
    },
    closing: { always: [{ guard: 'mustSign', target: 'signing' }, { target: 'saving' }] },
    /** Only where the unit asks for initials by voice. */
    signing: {
      tags: 'reading',
      entry: 'beginSigning',
      exit: 'endSigning',
      on: {
        'said.initials': { actions: 'toSigning' },
        'said.confirm': { actions: 'toSigning' },
        'said.dispute': { actions: 'toSigning' },
        'said.again': { actions: 'toSigning' },
        'said.help': { actions: 'toSigning' },
        'said.why': { actions: 'toSigning' },
        'said.next': { actions: 'toSigning' },
        'said.back': { target: 'returning' },
        'said.hold': { target: 'holding', actions: 'answerHeld' },
        'signing.ended': { target: 'saving', actions: 'keepReader' },
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

/** What may be said at a step that was called. */
function expectedAt(context: WalkContext): Expectation {
  switch (stepOf(context).kind) {
    case 'look':
      return { state: 'look' };
    case 'count':
      return { state: 'counting' };
    default:
      return { state: successorOf(context) === undefined ? 'step' : 'check' };
  }
}

function callText(context: WalkContext): string {
  const { call, kind } = stepOf(context);
  const { count } = wordsFor(context.locale).walk;
  const asked = kind === 'count' && context.counted === null ? `${call} ${count.ask}` : call;
  return context.lead === '' ? asked : `${context.lead} ${asked}`;
}
