import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { resample, Resampler } from './resampler.ts';

const tone = (hertz: number, rate: number, seconds: number): Float32Array =>
  Float32Array.from({ length: rate * seconds }, (_, index) =>
    Math.sin((2 * Math.PI * hertz * index) / rate),
  );
/** Root mean square away from the edges. */
const level = (samples: Float32Array): number => {
  const inner = samples.subarray(samples.length / 4, (samples.length * 3) / 4);
  return Math.sqrt(inner.reduce((sum, sample) => sum + sample * sample, 0) / inner.length);
};

describe('When sound is brought to another rate', () => {
  it.each([
    [8_000, 16_000],
    [16_000, 48_000],
    [44_100, 48_000],
    [48_000, 16_000],
    [22_050, 16_000],
  ])('keeps a tone of 1 kHz from %d to %d Hz', (from, to) => {
    const output = resample(tone(1_000, from, 0.5), from, to);
    const wanted = tone(1_000, to, 0.5);
    const wrong = output.map((sample, index) => sample - (wanted[index] ?? 0));
    expect(output.length).toBe(Math.ceil((0.5 * from * to) / from));
    expect(level(output)).toBeCloseTo(Math.SQRT1_2, 2);
    expect(level(wrong)).toBeLessThan(0.002);
  });

  it('lets nothing fold back that the new rate can not carry', () => {
    expect(level(resample(tone(11_000, 48_000, 0.5), 48_000, 16_000))).toBeLessThan(0.001);
  });

  it('gives the same however the sound is cut', () => {
    const sound = tone(440, 48_000, 0.1);
    const whole = new Resampler(48_000, 16_000).push(sound);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 2_000 }), { minLength: 1 }), (sizes) => {
        const resampler = new Resampler(48_000, 16_000);
        const pieces: number[] = [];
        for (let at = 0, turn = 0; at < sound.length; turn += 1) {
          const size = sizes[turn % sizes.length] ?? 1;
          pieces.push(...resampler.push(sound.slice(at, at + size)));
          at += size;
        }
        expect(pieces.length).toBe(whole.length);
        pieces.forEach((sample, index) => {
          expect(sample).toBeCloseTo(whole[index] ?? NaN, 5);
        });
      }),
      { numRuns: 20 },
    );
  });
});
