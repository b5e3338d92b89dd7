import { assertEvent, createActor, fromCallback, fromPromise, raise, SimulatedClock } from 'xstate';
import { describe, expect, test } from 'vitest';

import { later } from '../../tests/support/walkBench.ts';
import type { Expectation } from '../grammar/expectation.ts';
import { earMachine, type EngineEvent, type EngineOrder } from './earMachine.ts';
import { saidCommand } from './judged.ts';
import { soundCheckMachine } from './soundCheckMachine.ts';

/** The real machine over an engine that the test speaks for. */
async function startCheck({ mute = false, start = true } = {}) {
  const clock = new SimulatedClock();
  const spoken: string[] = [];
  const engine: { tell: (event: EngineEvent) => void } = { tell: () => undefined };
  const machine = soundCheckMachine.provide({
    actions: {
      interpret: raise(({ event }) => {
        assertEvent(event, 'ear.heard');
        const words = event.hearing.alternatives[0]?.transcript ?? '';
        return words === 'next step'
          ? saidCommand('next', words, later(0))
          : { type: 'said.talk', words, at: later(0) };
      }),
    },
    actors: {
      say: fromPromise<void, { text: string }>(({ input }) => {
        spoken.push(input.text);
        return mute ? Promise.reject(new Error('no voice')) : Promise.resolve();
      }),
      ear: earMachine.provide({
        actors: {
          engine: fromCallback<EngineOrder, { expectation: Expectation }>(({ sendBack }) => {
            engine.tell = sendBack;
            if (start) sendBack({ type: 'engine.ready' });
          }),
        },
      }),
    },
  });
  const actor = createActor(machine, { input: { ask: 'Say: next step.' }, clock });
  actor.start();
  const quiet = async () => {
    for (let turn = 0; turn < 20; turn += 1) await Promise.resolve();
  };
  await quiet();
  return {
    actor,
    spoken,
    engine,
    state: () => actor.getSnapshot().value,
    context: () => actor.getSnapshot().context,
    hear: (transcript: string) => {
      engine.tell({
        type: 'engine.heard',
        hearing: {
          ear: 'bundled',
          alternatives: [{ transcript, confidence: 0.9 }],
          fit: 'taken',
          at: later(0).ms,
        },
      });
    },
    pass: async (ms: number) => {
      clock.increment(ms);
      await quiet();
    },
  };
}

describe('When the sound is checked', () => {
  test.each([
    ['with a voice', false],
    ['by captions alone', true],
  ])('%s it asks, listens, and passes by the test word', async (_, mute) => {
    const check = await startCheck({ mute });
    expect(check.spoken).toEqual(['Say: next step.']);
    expect(check.state()).toBe('listening');
    check.hear('next step');
    expect(check.state()).toBe('passed');
  });

  test('other words are shown and pass nothing', async () => {
    const check = await startCheck();
    check.hear('good morning');
    expect(check.context().other).toBe('good morning');
    expect(check.state()).toBe('listening');
  });

  test('ten seconds without the word fail, with the loudest sound for the reason', async () => {
    const check = await startCheck();
    check.actor.send({ type: 'sound.level', level: 0.4 });
    check.actor.send({ type: 'sound.level', level: 0.1 });
    check.engine.tell({ type: 'engine.poor', why: 'loud' });
    await check.pass(9_999);
    expect(check.state()).toBe('listening');
    await check.pass(1);
    expect(check.state()).toBe('failed');
    expect(check.context()).toMatchObject({ loudest: 0.4, poor: 'loud', fault: null });
  });

  test('a microphone that is not allowed fails at once, and may be tried again', async () => {
    const check = await startCheck({ start: false });
    expect(check.state()).toBe('opening');
    check.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    expect(check.state()).toBe('failed');
    expect(check.context().fault).toBe('microphone_denied');
    check.actor.send({ type: 'check.again' });
    await check.pass(0);
    check.engine.tell({ type: 'engine.ready' });
    expect(check.state()).toBe('listening');
    expect(check.context()).toMatchObject({ loudest: 0, fault: null });
    check.hear('next step');
    check.actor.send({ type: 'check.again' });
    await check.pass(0);
    expect(check.spoken).toHaveLength(3);
  });

  test('an ear that is lost on the way fails with its fault', async () => {
    const check = await startCheck();
    check.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    expect(check.state()).toBe('failed');
  });
});
