import { describe, expect, test } from 'vitest';
import { createActor, createMachine, fromCallback, SimulatedClock } from 'xstate';
import type { Expectation } from '../grammar/expectation.ts';
import type { EarFault, Hearing } from '../speech/ear.ts';
import { earMachine, type EarReport, type EngineEvent, type EngineOrder } from './earMachine.ts';

const step: Expectation = { state: 'step' };
const held: Expectation = { state: 'held' };
const hearing: Hearing = {
  ear: 'typed',
  alternatives: [{ transcript: 'next', confidence: 1 }],
  fit: 'taken',
  at: 0,
};

/** The ear under a parent that remembers its reports, with an engine the test plays. */
function startEar({ ready = true } = {}) {
  const reports: EarReport[] = [];
  const opened: Expectation[] = [];
  const orders: EngineOrder[] = [];
  let closed = 0;
  let tell: (event: EngineEvent) => void = () => undefined;
  const clock = new SimulatedClock();
  const engine = fromCallback<EngineOrder, { expectation: Expectation }>(
    ({ input, sendBack, receive }) => {
      opened.push(input.expectation);
      receive((order) => orders.push(order));
      tell = sendBack;
      if (ready) sendBack({ type: 'engine.ready' });
      return () => closed++;
    },
  );
  const parent = createMachine({
    invoke: { id: 'ear', src: earMachine.provide({ actors: { engine } }) },
    on: { '*': { actions: ({ event }) => reports.push(event as EarReport) } },
  });
  const actor = createActor(parent, { clock }).start();
  const ear = actor.getSnapshot().children.ear;
  return {
    reports,
    opened,
    orders,
    clock,
    tell: (event: EngineEvent) => {
      tell(event);
    },
    closed: () => closed,
    send: (event: Parameters<NonNullable<typeof ear>['send']>[0]) => ear?.send(event),
    state: () => (ear?.getSnapshot() as { value: unknown } | undefined)?.value,
  };
}

function listening() {
  const ear = startEar();
  ear.send({ type: 'ear.open', expectation: step });
  return ear;
}

describe('When shut', () => {
  test('it opens the engine with what is expected', () => {
    const ear = listening();
    expect(ear.opened).toEqual([step]);
    expect(ear.state()).toEqual({ open: 'listening' });
    expect(ear.reports).toEqual([{ type: 'ear.listening' }]);
  });
});

describe('When listening', () => {
  test('an utterance is reported with what was expected', () => {
    const ear = listening();
    ear.tell({ type: 'engine.heard', hearing });
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.heard', hearing, expectation: step });
  });

  test('a new expectation is handed to the open engine, without a gap', () => {
    const ear = listening();
    ear.send({ type: 'ear.open', expectation: held });
    expect(ear.orders).toEqual([{ type: 'expect', expectation: held }]);
    expect(ear.opened).toHaveLength(1);
  });

  test('shutting closes the engine', () => {
    const ear = listening();
    ear.send({ type: 'ear.shut' });
    expect(ear.closed()).toBe(1);
    expect(ear.state()).toBe('shut');
  });

  test('a poor signal is reported', () => {
    const ear = listening();
    ear.tell({ type: 'engine.poor', why: 'loud' });
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.poor', why: 'loud' });
  });
});

describe('When the engine ends by itself', () => {
  test('it is opened again after 250 ms, no sooner', () => {
    const ear = listening();
    ear.tell({ type: 'engine.ended' });
    ear.clock.increment(249);
    expect(ear.opened).toHaveLength(1);
    ear.clock.increment(1);
    expect(ear.opened).toHaveLength(2);
  });

  test('ten minutes of silence in sessions of three seconds: never deaf, never a wait above 1 s', () => {
    const ear = listening();
    for (let turn = 0; turn < 150; turn++) {
      ear.clock.increment(3_000);
      ear.tell({ type: 'engine.ended' });
      ear.clock.increment(1_000);
      expect(ear.state()).toEqual({ open: 'listening' });
    }
    expect(ear.opened).toHaveLength(151);
  });

  test('one that ends at once, again and again, is broken: six openings within 8 s, then it is told', () => {
    const ear = listening();
    for (let passed = 0; passed < 60_000; passed += 10) {
      if (ear.state() !== 'waiting') ear.tell({ type: 'engine.ended' });
      ear.clock.increment(10);
    }
    expect(ear.opened).toHaveLength(6);
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.deaf', fault: 'engine_failed' });
  });

  test('one that ends with every utterance is in order', () => {
    const ear = listening();
    for (let turn = 0; turn < 20; turn++) {
      ear.tell({ type: 'engine.heard', hearing });
      ear.tell({ type: 'engine.ended' });
      ear.clock.increment(250);
      expect(ear.state()).toEqual({ open: 'listening' });
    }
  });

  test('that it is away is told before it opens again', () => {
    const ear = listening();
    ear.clock.increment(3_000);
    ear.tell({ type: 'engine.ended' });
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.away' });
    ear.clock.increment(250);
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.listening' });
  });

  test('what is expected may change while it waits', () => {
    const ear = listening();
    ear.tell({ type: 'engine.ended' });
    ear.send({ type: 'ear.open', expectation: held });
    ear.clock.increment(250);
    expect(ear.opened).toEqual([step, held]);
  });
});

describe('When the engine has a fault', () => {
  test('it waits 250 ms, then twice as long each time, and after six is deaf', () => {
    const ear = listening();
    for (const wait of [250, 500, 1_000, 2_000, 4_000]) {
      ear.tell({ type: 'engine.fault', fault: 'microphone_lost' });
      ear.clock.increment(wait - 1);
      expect(ear.state()).toBe('waiting');
      ear.clock.increment(1);
      expect(ear.state()).toEqual({ open: 'listening' });
    }
    ear.tell({ type: 'engine.fault', fault: 'microphone_lost' });
    expect(ear.state()).toBe('deaf');
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.deaf', fault: 'microphone_lost' });
  });

  test('an utterance forgets the faults before it', () => {
    const ear = listening();
    for (let turn = 0; turn < 5; turn++) {
      ear.tell({ type: 'engine.fault', fault: 'engine_failed' });
      ear.clock.increment(8_000);
    }
    ear.tell({ type: 'engine.heard', hearing });
    ear.tell({ type: 'engine.fault', fault: 'engine_failed' });
    ear.clock.increment(250);
    expect(ear.state()).toEqual({ open: 'listening' });
  });

  test.each([
    'microphone_denied',
    'microphone_missing',
    'engine_missing',
    'language_missing',
    'remote_refused',
    'sound_suspended',
  ] satisfies EarFault[])('%s waits for a person at once, and is told once', (fault) => {
    const ear = listening();
    ear.tell({ type: 'engine.fault', fault });
    ear.clock.increment(60_000);
    expect(ear.opened).toHaveLength(1);
    ear.send({ type: 'ear.shut' });
    ear.send({ type: 'ear.open', expectation: held });
    expect(ear.reports.filter(({ type }) => type === 'ear.deaf')).toEqual([
      { type: 'ear.deaf', fault },
    ]);
    ear.send({ type: 'ear.retry' });
    expect(ear.opened).toEqual([step, held]);
  });

  test.each(['page.shown', 'microphone.offered'] as const)(
    '%s makes one more try, a second later, however often it comes',
    (type) => {
      const ear = listening();
      ear.tell({ type: 'engine.fault', fault: 'microphone_missing' });
      for (let turn = 0; turn < 20; turn++) ear.send({ type });
      ear.clock.increment(999);
      expect(ear.opened).toHaveLength(1);
      ear.clock.increment(1);
      expect(ear.state()).toEqual({ open: 'listening' });
      expect(ear.opened).toHaveLength(2);
    },
  );

  test('a try that fails the same way is not told again; another fault is', () => {
    const ear = startEar({ ready: false });
    ear.send({ type: 'ear.open', expectation: step });
    ear.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    ear.send({ type: 'page.shown' });
    ear.clock.increment(1_000);
    ear.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    ear.send({ type: 'page.shown' });
    ear.clock.increment(1_000);
    ear.tell({ type: 'engine.fault', fault: 'microphone_missing' });
    expect(ear.reports).toEqual([
      { type: 'ear.deaf', fault: 'microphone_denied' },
      { type: 'ear.deaf', fault: 'microphone_missing' },
    ]);
  });

  test('neither a person nor a plug opens it while the assistant speaks', () => {
    for (const type of ['ear.retry', 'page.shown', 'microphone.offered'] as const) {
      const ear = listening();
      ear.tell({ type: 'engine.fault', fault: 'microphone_missing' });
      ear.send({ type: 'ear.shut' });
      ear.send({ type });
      ear.clock.increment(60_000);
      expect(ear.opened).toHaveLength(1);
      ear.send({ type: 'ear.open', expectation: held });
      expect(ear.state()).toEqual({ open: 'listening' });
    }
  });

  test('an engine that never starts is given 8 s, no less', () => {
    const ear = startEar({ ready: false });
    ear.send({ type: 'ear.open', expectation: step });
    ear.clock.increment(7_999);
    expect(ear.state()).toEqual({ open: 'opening' });
    ear.clock.increment(1);
    expect(ear.state()).toBe('waiting');
    expect(ear.closed()).toBe(1);
  });

  test('an engine that never starts six times is told as silent', () => {
    const ear = startEar({ ready: false });
    ear.send({ type: 'ear.open', expectation: step });
    for (let turn = 0; turn < 6; turn++) ear.clock.increment(8_000 + 8_000);
    for (let turn = 0; turn < 6; turn++) ear.clock.increment(8_000);
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.deaf', fault: 'engine_silent' });
  });
});

describe('When the page was hidden and is shown again', () => {
  test('a listening ear is opened anew: its microphone may have fallen silent', () => {
    const ear = listening();
    ear.send({ type: 'page.shown' });
    expect(ear.closed()).toBe(1);
    expect(ear.reports.at(-1)).toEqual({ type: 'ear.away' });
    ear.clock.increment(250);
    expect(ear.state()).toEqual({ open: 'listening' });
    expect(ear.opened).toHaveLength(2);
  });

  test('a shut one stays shut', () => {
    const ear = startEar();
    ear.send({ type: 'page.shown' });
    ear.clock.increment(60_000);
    expect(ear.opened).toEqual([]);
  });

  test('a device plugged in does not cut off who is speaking', () => {
    const ear = listening();
    ear.send({ type: 'microphone.offered' });
    expect(ear.closed()).toBe(0);
  });
});

describe('When it hopes that something mended it', () => {
  const hoping = () => {
    const ear = listening();
    ear.tell({ type: 'engine.fault', fault: 'microphone_missing' });
    ear.send({ type: 'page.shown' });
    return ear;
  };

  test('shut meanwhile, it is not opened', () => {
    const ear = hoping();
    ear.send({ type: 'ear.shut' });
    ear.clock.increment(1_000);
    expect(ear.state()).toBe('shut');
    expect(ear.opened).toHaveLength(1);
  });

  test('what is expected may change meanwhile', () => {
    const ear = hoping();
    ear.send({ type: 'ear.open', expectation: held });
    ear.clock.increment(1_000);
    expect(ear.opened).toEqual([step, held]);
  });
});
