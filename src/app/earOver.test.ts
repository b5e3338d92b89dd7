import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { createActor, createMachine } from 'xstate';
import { fakeBundled } from '../../tests/support/fakeEngineHost.ts';
import { fakeEngine } from '../../tests/support/fakeRecognition.ts';
import type { EarReport, SurroundingsEvent } from '../conversation/earMachine.ts';
import type { Expectation } from '../grammar/expectation.ts';
import { browserEngine } from '../speech/browser/browserEngine.ts';
import { bundledEngine } from '../speech/bundled/bundledEngine.ts';
import { bundledRecognition } from '../speech/bundled/bundledRecognition.ts';
import { MicrophoneError } from '../speech/bundled/microphone.ts';
import type { Ear, EarFault } from '../speech/ear.ts';
import { RecognitionEar } from '../speech/recognitionEar.ts';
import { earOver } from './walkPorts.ts';

// Machine, adapter and engine together, with the engine faked at its own boundary.

const step: Expectation = { state: 'step' };

function supervised(ear: Ear) {
  const reports: EarReport[] = [];
  let around: (event: SurroundingsEvent) => void = () => undefined;
  const machine = earOver({
    ear,
    level: () => undefined,
    watch: (tell) => {
      around = tell;
      return () => undefined;
    },
  });
  const parent = createMachine({
    invoke: { id: 'ear', src: machine },
    on: { '*': { actions: ({ event }) => reports.push(event as EarReport) } },
  });
  const actor = createActor(parent).start();
  const child = actor.getSnapshot().children.ear;
  child?.send({ type: 'ear.open', expectation: step });
  return {
    reports,
    around: (type: SurroundingsEvent['type']) => {
      around({ type });
    },
    pass: (ms: number) => vi.advanceTimersByTimeAsync(ms),
    listens: () =>
      (child?.getSnapshot() as { hasTag(tag: string): boolean } | undefined)?.hasTag('micOpen') ===
      true,
    deaf: () => reports.filter(({ type }) => type === 'ear.deaf'),
  };
}

function bundled(refuses?: EarFault) {
  const world = { opened: 0, refuses };
  const fake = fakeBundled();
  const type = bundledRecognition({
    engine: fake.engine,
    openMicrophone: (track, lost) => {
      world.opened += 1;
      return world.refuses === undefined
        ? fake.openMicrophone(track, lost)
        : Promise.reject(new MicrophoneError(world.refuses, 'the test refuses'));
    },
  });
  const grammarOf = () => ({ jsgf: '#JSGF V1.0; grammar g; public <g> = next;' });
  return { fake, world, ...supervised(new RecognitionEar(bundledEngine(type, grammarOf))) };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('When permission is taken away in the midst of a walk', () => {
  test('the lost microphone is tried once, its refusal told, and nothing loops', async () => {
    const ear = bundled();
    await ear.pass(0);
    expect(ear.listens()).toBe(true);
    ear.world.refuses = 'microphone_denied';
    ear.fake.lose('microphone_lost');
    await ear.pass(60 * 60_000);
    expect(ear.world.opened).toBe(2);
    expect(ear.deaf()).toEqual([{ type: 'ear.deaf', fault: 'microphone_denied' }]);
  });

  test('allowed again it listens again, without a hand on the screen', async () => {
    const ear = bundled('microphone_denied');
    await ear.pass(1_000);
    expect(ear.listens()).toBe(false);
    ear.world.refuses = undefined;
    ear.around('microphone.offered');
    await ear.pass(1_000);
    expect(ear.listens()).toBe(true);
  });
});

describe('When the microphone is unplugged', () => {
  test('it is tried with growing pauses, six times in all, then told; plugged in it listens', async () => {
    const ear = bundled();
    await ear.pass(0);
    ear.world.refuses = 'microphone_lost';
    ear.fake.lose('microphone_lost');
    await ear.pass(60 * 60_000);
    expect(ear.world.opened).toBe(6);
    expect(ear.deaf()).toEqual([{ type: 'ear.deaf', fault: 'microphone_lost' }]);
    ear.world.refuses = undefined;
    ear.around('microphone.offered');
    await ear.pass(1_000);
    expect(ear.listens()).toBe(true);
    expect(ear.fake.open()).toBe(1);
  });
});

describe('When the system suspends the sound', () => {
  test('it is told, waits, and listens again when the page is shown', async () => {
    const ear = bundled();
    await ear.pass(0);
    ear.fake.lose('sound_suspended');
    await ear.pass(60 * 60_000);
    expect(ear.world.opened).toBe(1);
    expect(ear.deaf()).toEqual([{ type: 'ear.deaf', fault: 'sound_suspended' }]);
    ear.around('page.shown');
    await ear.pass(1_000);
    expect(ear.listens()).toBe(true);
  });
});

describe('When the page is hidden and shown again', () => {
  test('the microphone is opened anew and the old one given back', async () => {
    const ear = bundled();
    await ear.pass(0);
    ear.around('page.shown');
    expect(ear.fake.open()).toBe(0);
    await ear.pass(250);
    expect(ear.listens()).toBe(true);
    expect(ear.fake.open()).toBe(1);
    expect(ear.world.opened).toBe(2);
  });
});

describe('When the worker of the ear crashes', () => {
  test('it is loaded anew and listens again', async () => {
    const ear = bundled();
    await ear.pass(0);
    ear.fake.tell({ type: 'crashed' });
    expect(ear.listens()).toBe(false);
    await ear.pass(250);
    expect(ear.listens()).toBe(true);
    expect(ear.deaf()).toEqual([]);
  });
});

describe('When the browser’s engine is supervised', () => {
  function browsers(quirks: Parameters<typeof fakeEngine>[0] = {}) {
    const engine = fakeEngine(quirks);
    const grammar = { phrasesOf: () => [], meaningOf: (transcript: string) => transcript };
    const parts = { type: engine.type, grammar, remote: false, makePhrase: undefined };
    return { engine, ...supervised(new RecognitionEar(browserEngine(parts))) };
  }

  test('ten minutes of no-speech, every eight seconds: it always comes back, and nothing is told', async () => {
    const ear = browsers();
    await ear.pass(0);
    for (let turn = 0; turn < 75; turn++) {
      await ear.pass(8_000);
      ear.engine.last().fail('no-speech');
      await ear.pass(1_000);
      expect(ear.listens()).toBe(true);
    }
    expect(ear.deaf()).toEqual([]);
    expect(ear.engine.made).toHaveLength(76);
  });

  test('one that ends every three seconds is opened again each time', async () => {
    const ear = browsers();
    await ear.pass(0);
    for (let turn = 0; turn < 100; turn++) {
      await ear.pass(3_000);
      ear.engine.last().finish();
      await ear.pass(1_000);
      expect(ear.listens()).toBe(true);
    }
    expect(ear.deaf()).toEqual([]);
  });

  test.each([
    ['never starts', { neverStarts: true }, 'engine_silent'],
    ['throws', { throws: true }, 'engine_failed'],
    ['has no network', { failsWith: 'network' }, 'engine_failed'],
  ] as const)(
    'one that %s is tried six times within two minutes, then told',
    async (_, quirks, fault) => {
      const ear = browsers(quirks);
      await ear.pass(2 * 60_000);
      expect(ear.engine.made).toHaveLength(6);
      expect(ear.deaf()).toEqual([{ type: 'ear.deaf', fault }]);
      await ear.pass(60 * 60_000);
      expect(ear.engine.made).toHaveLength(6);
    },
  );

  test('another app takes the microphone: audio-capture in the midst is tried again', async () => {
    const ear = browsers();
    await ear.pass(3_000);
    ear.engine.last().fail('audio-capture');
    expect(ear.listens()).toBe(false);
    await ear.pass(250);
    expect(ear.listens()).toBe(true);
  });
});
