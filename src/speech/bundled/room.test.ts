import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { say } from '../../../tests/support/flite.ts';
import { grammarFiles } from '../../../tests/support/grammarFiles.ts';
import { openNodeRecogniser } from '../../../tests/support/nodeRecogniser.ts';
import { pinkNoise, seeded, speechLevel } from '../../../tests/support/noise.ts';
import { createInterpreter } from '../../grammar/interpreter.ts';
import type { Recogniser, RecogniserEvent } from './recogniser.ts';

// A room in which nobody speaks: a tap that runs, a fan, the hiss of the microphone itself.

const { jsgf } = createInterpreter(grammarFiles()).earGrammar({ state: 'step' });

const whiteNoise = (length: number, seed: number): Float32Array => {
  const random = seeded(seed);
  return Float32Array.from({ length }, () => random() * 2 - 1);
};
/** @param level - root mean square of full scale */
const atLevel = (sound: Float32Array, level: number): Float32Array => {
  const gain = level / speechLevel(sound);
  return sound.map((sample) => sample * gain);
};
const noises = { white: whiteNoise, pink: pinkNoise };

describe('When nobody speaks', { timeout: 120_000 }, () => {
  let recogniser: Recogniser;
  let events: RecogniserEvent['type'][];
  const play = (sound: Float32Array, rate: number): void => {
    for (let at = 0; at < sound.length; at += rate / 50) {
      recogniser.push(sound.slice(at, at + rate / 50), rate);
    }
  };

  beforeAll(async () => {
    events = [];
    recogniser = await openNodeRecogniser(({ type }) => {
      if (type !== 'level') events.push(type);
    });
  });
  beforeEach(async () => {
    await recogniser.forget();
    recogniser.expect({ jsgf });
    events.length = 0;
  });

  it.each(
    (['white', 'pink'] as const).flatMap((noise) =>
      [0.0005, 0.002, 0.01, 0.03].flatMap((level) =>
        [44_100, 48_000].map((rate) => [noise, level, rate] as const),
      ),
    ),
  )('%s noise of %d at %d Hz is no speech, however often the ear opens', (noise, level, rate) => {
    for (let opening = 1; opening <= 4; opening += 1) {
      play(atLevel(noises[noise](1.2 * rate, opening), level), rate);
      recogniser.drop();
    }
    expect(events).toEqual([]);
  });

  it('openings of a third of a second, one after the other, make no speech of the room', () => {
    for (let opening = 1; opening <= 12; opening += 1) {
      play(new Float32Array(882), 44_100);
      play(atLevel(whiteNoise(14_112, 1), 0.0005), 44_100);
      recogniser.drop();
    }
    play(atLevel(whiteNoise(88_200, 1), 0.0005), 44_100);
    expect(events).toEqual([]);
  });

  it('a voice over the same noise is heard, and its end too', () => {
    const voice = say('say that again', 'slt');
    const sound = atLevel(whiteNoise(16_000 + voice.length + 24_000, 3), 0.01);
    voice.forEach((sample, index) => {
      sound[16_000 + index] = (sound[16_000 + index] ?? 0) + sample;
    });
    play(sound, 16_000);
    expect(events).toEqual(['speechstart', 'speechend', 'heard']);
  });
});
