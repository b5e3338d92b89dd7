import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { fakeEngine, type RecognitionQuirks } from '../../tests/support/fakeRecognition.ts';
import type { Expectation } from '../grammar/expectation.ts';
import { browserEngine } from './browser/browserEngine.ts';
import type { EarSignal } from './ear.ts';
import { EarWithSpare } from './EarWithSpare.ts';
import { RecognitionEar } from './recognitionEar.ts';
import { TypedEar } from './typed/TypedEar.ts';

const step: Expectation = { state: 'step' };
const held: Expectation = { state: 'held' };

function startEar(quirks: RecognitionQuirks) {
  const engine = fakeEngine(quirks);
  const grammar = { phrasesOf: () => [], meaningOf: (transcript: string) => transcript };
  const parts = { type: engine.type, grammar, remote: false, makePhrase: undefined };
  const spare = new TypedEar();
  const told: EarSignal[] = [];
  const ear = new EarWithSpare(new RecognitionEar(browserEngine(parts)), () => spare);
  const open = async (ms: number) => {
    ear.open(step, (signal) => told.push(signal));
    await vi.advanceTimersByTimeAsync(ms);
  };
  return { ear, engine, spare, told, open };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

test.each([
  ['never starts', { neverStarts: true }],
  ['does not have the language it promised', { failsWith: 'language-not-supported' }],
  ['refuses its service', { failsWith: 'service-not-allowed' }],
  ['throws', { throws: true }],
] as const)('When an engine says it is there and %s, the spare listens', async (_, quirks) => {
  const { ear, engine, spare, told, open } = startEar(quirks);
  await open(6_000);
  expect(ear.name).toBe('typed');
  expect(told).toEqual([{ type: 'ready' }]);
  spare.type('next');
  expect(told.at(-1)).toMatchObject({ type: 'heard', hearing: { ear: 'typed' } });
  ear.close();
  await open(6_000);
  expect(engine.made).toHaveLength(1);
});

test('When what is expected changed meanwhile, the spare expects that', async () => {
  const { ear, spare, open } = startEar({ neverStarts: true });
  const opened = vi.spyOn(spare, 'open');
  await open(1_000);
  ear.expect(held);
  await vi.advanceTimersByTimeAsync(5_000);
  expect(opened.mock.calls.map(([expectation]) => expectation)).toEqual([held]);
});

test('When the microphone is refused, another engine is no help: it is told', async () => {
  const { ear, told, open } = startEar({ failsWith: 'not-allowed' });
  await open(0);
  expect(ear.name).toBe('browser');
  expect(told).toEqual([{ type: 'fault', fault: 'microphone_denied' }]);
});

test('When an engine that once listened fails, it is told and tried again', async () => {
  const { ear, engine, told, open } = startEar({});
  await open(0);
  engine.last().fail('network');
  expect(ear.name).toBe('browser');
  expect(told.at(-1)).toEqual({ type: 'fault', fault: 'engine_failed' });
});
