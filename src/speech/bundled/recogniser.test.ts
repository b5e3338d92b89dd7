import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { say } from '../../../tests/support/flite.ts';
import { openNodeRecogniser } from '../../../tests/support/nodeRecogniser.ts';
import { pad, pinkNoise } from '../../../tests/support/noise.ts';
import { resample } from '../resampler.ts';
import type { Recogniser, RecogniserEvent } from './recogniser.ts';

// The engine itself, on synthetic speech: few and short, since each takes a second of work.

const jsgf = `#JSGF V1.0;
grammar lines;
public <line> = (three | four | nine) hundred [twenty five | fifty | seventy five] [milliliters];`;
const commands = `#JSGF V1.0;
grammar commands;
public <command> = next step | say that again;`;

/** Without the quiet that a synthetic voice has before and after a word. */
const trimmed = (samples: Float32Array): Float32Array => {
  const isLoud = (sample: number): boolean => Math.abs(sample) > 0.01;
  return samples.slice(samples.findIndex(isLoud), samples.findLastIndex(isLoud));
};

describe('When the recogniser hears', { timeout: 60_000 }, () => {
  let recogniser: Recogniser;
  let events: RecogniserEvent[];
  const of = <Type extends RecogniserEvent['type']>(type: Type) =>
    events.filter(
      (event): event is Extract<RecogniserEvent, { type: Type }> => event.type === type,
    );
  const hear = (samples: Float32Array, rate = 16_000): void => {
    const size = rate / 50;
    for (let at = 0; at < samples.length; at += size) {
      recogniser.push(samples.subarray(at, at + size), rate);
    }
  };

  beforeAll(async () => {
    events = [];
    recogniser = await openNodeRecogniser((event) => events.push(event));
  });
  beforeEach(async () => {
    await recogniser.forget();
    events.length = 0;
    recogniser.expect({ jsgf });
  });

  it('takes a line, with the start and the end of speech around it', () => {
    hear(pad(say('four hundred seventy five', 'slt'), 1));
    expect(events.filter(({ type }) => type !== 'level').map(({ type }) => type)).toEqual([
      'speechstart',
      'speechend',
      'heard',
    ]);
    expect(of('heard')[0]?.alternatives[0]?.transcript).toBe('four hundred seventy five');
  });

  it('takes it from a microphone of 48 kHz as well', () => {
    hear(pad(resample(say('nine hundred fifty', 'slt'), 16_000, 48_000), 1, 48_000), 48_000);
    expect(of('heard')[0]?.alternatives[0]?.transcript).toBe('nine hundred fifty');
  });

  it('waits for digits that are read off one by one, and for those alone', () => {
    // Three quarters of a second between two digits: longer than the usual hang.
    const row = ['three', 'five', 'zero'].map((digit) => pad(trimmed(say(digit, 'slt')), 0.375));
    recogniser.expect({ jsgf: '#JSGF V1.0; grammar g; public <g> = three (five zero | hundred);' });
    hear(pad(Float32Array.from(row.flatMap((piece) => [...piece])), 1));
    expect(of('heard').map(({ text }) => text)).toEqual(['three five zero']);
  });

  it('hears nothing in silence and nothing in steady noise', () => {
    hear(new Float32Array(48_000));
    hear(pinkNoise(48_000, 3).map((sample) => sample * 0.1));
    expect(of('heard')).toEqual([]);
    expect(of('level').length).toBeGreaterThan(50);
  });

  it('takes no talk for a line', () => {
    hear(pad(say('could you bring me another blanket', 'slt'), 1));
    expect(of('heard').map(({ alternatives }) => alternatives)).toEqual([[]]);
  });

  it('goes over to another grammar between two utterances', () => {
    hear(pad(say('three hundred', 'slt'), 1));
    recogniser.expect({ jsgf: commands });
    hear(pad(say('say that again', 'slt'), 1));
    expect(of('heard').map(({ text }) => text)).toEqual(['three hundred', 'say that again']);
  });

  it('keeps the grammar before when one can not be read, and says so', () => {
    recogniser.expect({ jsgf: 'no grammar at all' });
    expect(of('badGrammar')).toHaveLength(1);
    hear(pad(say('three hundred', 'slt'), 1));
    expect(of('heard')[0]?.text).toBe('three hundred');
  });

  it('takes a grammar with a word that no dictionary has', () => {
    recogniser.expect({
      jsgf: '#JSGF V1.0; grammar g; public <g> = open the zorbalax | next step;',
    });
    expect(of('badGrammar')).toEqual([]);
    hear(pad(say('next step', 'slt'), 1));
    expect(of('heard')[0]?.text).toBe('next step');
  });

  it('drops what was said when the microphone closes in the midst', () => {
    const speech = pad(say('three hundred fifty', 'slt'), 0.5);
    hear(speech.subarray(0, speech.length / 2));
    recogniser.drop();
    hear(new Float32Array(32_000));
    expect(of('heard')).toEqual([]);
  });

  it('judges what was said so far when it is told that the microphone closes', () => {
    const speech = pad(say('three hundred fifty', 'slt'), 0.3);
    hear(speech);
    recogniser.finish();
    expect(of('heard')[0]?.text).toBe('three hundred fifty');
  });
});
