import { describe, expect, test } from 'vitest';
import { createActor, fromCallback, fromPromise, raise, SimulatedClock } from 'xstate';
import { grammarFiles } from '../../tests/support/grammarFiles.ts';
import { later } from '../../tests/support/walkBench.ts';
import { createInterpreter } from '../grammar/interpreter.ts';
import type { Expectation } from '../grammar/expectation.ts';
import { builtIn } from '../procedures/builtIn.ts';
import { choosingMachine } from './choosingMachine.ts';
import { earMachine, type EngineEvent, type EngineOrder } from './earMachine.ts';
import { judged } from './judged.ts';

const interpreter = createInterpreter(grammarFiles());
const beds = ['Bed 4', 'Bed 12 A', 'Bed 12 B'];

async function chooser(mute = /^$/) {
  const spoken: string[] = [];
  const clock = new SimulatedClock();
  const engine: { tell: (event: EngineEvent) => void } = { tell: () => undefined };
  const machine = choosingMachine.provide({
    actions: {
      interpret: raise(({ event }) => {
        if (event.type !== 'ear.heard') throw new Error(event.type);
        return judged(event.hearing, event.expectation, interpreter, later(1));
      }),
    },
    actors: {
      say: fromPromise<void, { text: string }>(({ input: { text } }) => {
        spoken.push(text);
        return mute.test(text) ? Promise.reject(new Error('no voice')) : Promise.resolve();
      }),
      ear: earMachine.provide({
        actors: {
          engine: fromCallback<EngineOrder, { expectation: Expectation }>(({ sendBack }) => {
            engine.tell = sendBack;
            sendBack({ type: 'engine.ready' });
          }),
        },
      }),
    },
  });
  const actor = createActor(machine, {
    clock,
    input: { locale: 'en-US', beds, procedures: builtIn },
  });
  actor.start();
  const quiet = async () => {
    for (let turn = 0; turn < 20; turn++) await Promise.resolve();
  };
  await quiet();
  return {
    actor,
    engine,
    spoken,
    say: async (...sentences: string[]) => {
      for (const transcript of sentences) {
        const alternatives = [{ transcript, confidence: 1 }];
        const hearing = { ear: 'bundled', alternatives, fit: 'taken', at: 1 } as const;
        engine.tell({ type: 'engine.heard', hearing });
        await quiet();
      }
    },
    pass: async (ms: number) => {
      clock.increment(ms);
      await quiet();
    },
    said: () => spoken.at(-1),
    open: () => {
      const ear = actor.getSnapshot().children.ear?.getSnapshot();
      return ear?.hasTag('micOpen') ? ear.context.expectation?.state : null;
    },
    output: () => actor.getSnapshot().output,
    state: () => actor.getSnapshot().value,
  };
}

describe('When a bed is chosen by voice', () => {
  test('bed and procedure are read back, and begin with the phrase', async () => {
    const choosing = await chooser();
    expect(choosing.said()).toBe('Which bed, and what?');
    expect(choosing.open()).toBe('choosing');
    await choosing.say('bed four, drainage bag');
    expect(choosing.said()).toBe('Bed 4, empty a urinary drainage bag. Say begin.');
    expect(choosing.open()).toBe('chosen');
    expect(choosing.output()).toBeUndefined();
    await choosing.say('begin');
    expect(choosing.output()).toEqual({ bed: 'Bed 4', procedure: 'drainage-bag' });
  });

  test.each(['begin', 'start', 'correct', "let's begin"])('"%s" agrees', async (words) => {
    const choosing = await chooser();
    await choosing.say('bed twelve a urinal', words);
    expect(choosing.output()).toEqual({ bed: 'Bed 12 A', procedure: 'urinal' });
  });

  test.each(['yes', 'okay', 'when do we start', 'give me a minute dear'])(
    '"%s" is talk',
    async (words) => {
      const choosing = await chooser();
      await choosing.say('bed four urinal', words);
      expect(choosing.state()).toBe('confirming');
      expect(choosing.actor.getSnapshot().context.talk).toBe(words);
    },
  );

  test('a bed without a procedure chooses nothing', async () => {
    const choosing = await chooser();
    await choosing.say('bed four');
    expect(choosing.state()).toBe('listening');
  });

  test.each(['bed nine urinal', 'bed twelve urinal'])(
    '"%s" names no one bed of the unit: it says so and asks again',
    async (words) => {
      const choosing = await chooser();
      await choosing.say(words);
      expect(choosing.said()).toBe(
        'That bed is not on the list. Say the bed and the procedure again.',
      );
      expect(choosing.open()).toBe('choosing');
      await choosing.say('bed four urinal', words, 'begin');
      expect(choosing.output()).toBeUndefined();
    },
  );

  test('no asks again, and another choice takes its place', async () => {
    const choosing = await chooser();
    await choosing.say('bed four urinal', 'no');
    expect(choosing.said()).toBe('Say the bed and the procedure again.');
    await choosing.say('bed four emesis', 'bed four leg bag', 'begin');
    expect(choosing.output()).toEqual({ bed: 'Bed 4', procedure: 'leg-bag' });
  });

  test('say again, why and help are answered', async () => {
    const choosing = await chooser();
    await choosing.say('say again');
    expect(choosing.said()).toBe('Which bed, and what?');
    await choosing.say('why');
    expect(choosing.said()).toMatch(/for example bed four/);
    await choosing.say('what can i say');
    expect(choosing.said()).toMatch(/for example bed four/);
    await choosing.say('bed four urinal', 'say again');
    expect(choosing.said()).toMatch(/Say begin\.$/);
    await choosing.say('what can i say');
    expect(choosing.said()).toMatch(/Say begin, or say no\.$/);
  });

  test('a question that could not be said stands as a caption, and the ear opens', async () => {
    const choosing = await chooser(/./);
    expect(choosing.open()).toBe('choosing');
  });

  test('a read-back that could not be said is nothing to agree to', async () => {
    const choosing = await chooser(/Say begin/);
    await choosing.say('bed four urinal');
    expect(choosing.state()).toBe('listening');
    expect(choosing.actor.getSnapshot().context.candidate).toBeNull();
  });
});

describe('When nobody answers', () => {
  test('it asks again after 20 s, no sooner, and after three leaves', async () => {
    const choosing = await chooser();
    await choosing.pass(19_999);
    expect(choosing.spoken).toHaveLength(1);
    await choosing.pass(1);
    expect(choosing.spoken).toHaveLength(2);
    await choosing.pass(20_000);
    await choosing.pass(20_000);
    expect(choosing.state()).toBe('left');
    expect(choosing.output()).toBeNull();
  });

  test('a read-back comes again after 12 s, no sooner, and begins nothing', async () => {
    const choosing = await chooser();
    await choosing.say('bed four urinal');
    await choosing.pass(11_999);
    expect(choosing.spoken).toHaveLength(2);
    await choosing.pass(1);
    expect(choosing.spoken).toHaveLength(3);
    await choosing.pass(12_000);
    await choosing.pass(12_000);
    expect(choosing.output()).toBeNull();
  });

  test('stopping, or an ear that can not hear, leaves the tiles', async () => {
    const stopped = await chooser();
    await stopped.say('bed four urinal');
    stopped.actor.send({ type: 'choosing.stop' });
    expect(stopped.output()).toBeNull();
    const deaf = await chooser();
    deaf.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    expect(deaf.state()).toBe('left');
  });
});
