import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { say } from '../../../tests/support/flite.ts';
import { grammarFiles } from '../../../tests/support/grammarFiles.ts';
import { openNodeRecogniser } from '../../../tests/support/nodeRecogniser.ts';
import { mixAt, pad, pinkNoise } from '../../../tests/support/noise.ts';
import { createInterpreter } from '../../grammar/interpreter.ts';
import type { Recogniser, RecogniserEvent } from './recogniser.ts';

// Real sound through the real ear: talk, and a command, in rooms of all kinds.

const { jsgf } = createInterpreter(grammarFiles()).earGrammar({ state: 'step' });
const talk = pad(say('could you bring me another blanket', 'slt'), 1);
const command = pad(say('say that again', 'slt'), 1);
const noisy = (speech: Float32Array, decibels: number): Float32Array =>
  mixAt(speech, pinkNoise(speech.length, 5), decibels);
const far = (speech: Float32Array): Float32Array => speech.map((sample) => sample / 300);

describe('When an utterance can not be made out', { timeout: 60_000 }, () => {
  let recogniser: Recogniser;
  let events: RecogniserEvent[];

  beforeAll(async () => {
    events = [];
    recogniser = await openNodeRecogniser((event) => events.push(event));
  });
  beforeEach(async () => {
    await recogniser.forget();
    recogniser.expect({ jsgf });
    events.length = 0;
  });

  it.each([
    ['talk in a quiet room', talk, []],
    ['talk 3 dB over a fan', noisy(talk, 3), ['loud']],
    ['talk 20 dB over a fan', noisy(talk, 20), []],
    ['talk from far away', far(talk), ['faint']],
    ['a command in a quiet room', command, []],
    ['a command 20 dB over a fan', noisy(command, 20), []],
  ])('%s', (_, sound, why) => {
    for (let at = 0; at < sound.length; at += 320) {
      recogniser.push(sound.subarray(at, at + 320), 16_000);
    }
    recogniser.finish();
    const told = events.filter((event) => event.type === 'poor').map((event) => event.why);
    expect(events.filter(({ type }) => type === 'heard')).toHaveLength(1);
    expect(told).toEqual(why);
  });

  it('shows a loud room on the level meter, and a quiet one', () => {
    const meanLevel = (sound: Float32Array): number => {
      events.length = 0;
      for (let at = 0; at < sound.length; at += 320) {
        recogniser.push(sound.subarray(at, at + 320), 16_000);
      }
      const levels = events.flatMap((event) => (event.type === 'level' ? [event.level] : []));
      return levels.reduce((sum, level) => sum + level, 0) / levels.length;
    };
    const room = pinkNoise(32_000, 9);
    // The filters still ring from the clip before.
    expect(meanLevel(new Float32Array(32_000))).toBeLessThan(0.05);
    expect(meanLevel(room.map((sample) => sample * 0.01))).toBeLessThan(0.3);
    expect(meanLevel(room)).toBeGreaterThan(0.5);
  });
});
