import { assertEvent, fromCallback, fromPromise, raise, type EventObject } from 'xstate';
import { earMachine, type EngineEvent, type EngineOrder } from '../conversation/earMachine.ts';
import { readingMachine } from '../conversation/readingMachine.ts';
import type { SaidEvent } from '../conversation/said.ts';
import type { WalkContext } from '../conversation/walkContext.ts';
import { signingMachine } from '../conversation/signingMachine.ts';
import { trayMachine } from '../conversation/trayMachine.ts';
import { walkMachine } from '../conversation/walkMachine.ts';
import type { Expectation } from '../grammar/expectation.ts';
import type { Moment } from '../measure/moment.ts';
import type { Ear, EarSignal, Hearing } from '../speech/ear.ts';
import type { Voice } from '../speech/voice.ts';
import { waitToRead } from '../speech/voices/waitToRead.ts';
import { watchSurroundings } from './surroundings.ts';

/** What a walk needs of the world. Each is real in the app and remembered in a test. */
export interface WalkPorts {
  readonly ear: Ear;
  readonly voice: Voice;
  /** Shows what is said now; stays until the next words. */
  caption(text: string): void;
  /** What an utterance means, by the unit's grammars. */
  judge(hearing: Hearing, expectation: Expectation): SaidEvent;
  /** Sound level, 0 to 1. */
  level(level: number): void;
  /** Write the entry; resolves with the time of the record once the ledger has it. */
  save(context: WalkContext): Promise<Moment>;
  /** Write the alerts not kept yet. */
  raise(context: WalkContext): Promise<void>;
}

function engineEvent(signal: EarSignal): EngineEvent | null {
  switch (signal.type) {
    case 'ready':
      return { type: 'engine.ready' };
    case 'heard':
      return { type: 'engine.heard', hearing: signal.hearing };
    case 'poor':
      return { type: 'engine.poor', why: signal.why };
    case 'fault':
      return { type: 'engine.fault', fault: signal.fault };
    case 'ended':
      return { type: 'engine.ended' };
    case 'level':
    case 'speaking':
      return null;
  }
}

type Speaking = Pick<WalkPorts, 'voice' | 'caption'>;
type Hearkening = Pick<WalkPorts, 'ear' | 'level'> & {
  /** Watches for what may mend the ear; the page's own where none is given. */
  readonly watch?: typeof watchSurroundings;
};

/** Speech as an actor: done when the words were heard, or had time to be read. */
export function sayOver({ voice, caption }: Speaking) {
  return fromPromise<void, { text: string }>(async ({ input: { text }, signal }) => {
    caption(text);
    try {
      await voice.say(text, signal);
    } catch {
      // Words on the screen are the voice of last resort; they need time to be read.
      if (!signal.aborted) await waitToRead(text, signal);
    }
  });
}

/** The supervised ear with its engine in place. */
export function earOver({ ear, level, watch = watchSurroundings }: Hearkening) {
  const engine = fromCallback<EngineOrder, { expectation: Expectation }>(
    ({ input, sendBack, receive }) => {
      receive((order) => {
        ear.expect(order.expectation);
      });
      ear.open(input.expectation, (signal) => {
        if (signal.type === 'level') level(signal.level);
        const event = engineEvent(signal);
        if (event !== null) sendBack(event);
      });
      return () => {
        ear.close();
      };
    },
  );
  const surroundings = fromCallback<EventObject>(({ sendBack }) => watch(sendBack));
  return earMachine.provide({ actors: { engine, surroundings } });
}

/** The walk with its effects in place. */
export function walkOver(ports: WalkPorts) {
  const say = sayOver(ports);
  return walkMachine.provide({
    actions: {
      interpret: raise(({ event }) => {
        assertEvent(event, 'ear.heard');
        return ports.judge(event.hearing, event.expectation);
      }),
    },
    actors: {
      say,
      ear: earOver(ports),
      reading: readingMachine.provide({ actors: { say } }),
      tray: trayMachine.provide({ actors: { say } }),
      signing: signingMachine.provide({ actors: { say } }),
      save: fromPromise<Moment, { context: WalkContext }>(({ input }) => ports.save(input.context)),
      raise: fromPromise<void, { context: WalkContext }>(({ input }) => ports.raise(input.context)),
    },
  });
}
