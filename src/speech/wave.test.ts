import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWave, WaveError, writeWave } from './wave.ts';

/** A file of one format from values of -1 to 1, channel by channel. */
function fileOf(
  kind: number,
  bits: number,
  channels: number,
  values: readonly number[],
): Uint8Array {
  const width = bits / 8;
  const bytes = new Uint8Array(44 + values.length * width);
  bytes.set(writeWave({ samples: new Float32Array(0), rate: 8_000 }));
  const view = new DataView(bytes.buffer);
  view.setUint16(20, kind, true);
  view.setUint16(22, channels, true);
  view.setUint16(34, bits, true);
  view.setUint32(40, values.length * width, true);
  values.forEach((value, index) => {
    const at = 44 + index * width;
    if (kind === 3) view.setFloat32(at, value, true);
    else if (bits === 8) view.setUint8(at, Math.round(value * 127) + 128);
    else if (bits === 16) view.setInt16(at, Math.round(value * 0x7fff), true);
    else if (bits === 24) {
      const whole = Math.round(value * 0x7fffff);
      view.setUint16(at, whole & 0xffff, true);
      view.setInt8(at + 2, whole >> 16);
    } else view.setInt32(at, Math.round(value * 0x7fffffff), true);
  });
  return bytes;
}

const faultOf = (bytes: Uint8Array): WaveError => {
  try {
    readWave(bytes, 'reading.wav');
  } catch (error) {
    if (error instanceof WaveError) return error;
  }
  throw new Error('it was read');
};

describe('When a sound file is read', () => {
  it.each([
    [1, 8],
    [1, 16],
    [1, 24],
    [1, 32],
    [3, 32],
  ])('takes format %d of %d bits', (kind, bits) => {
    const { samples, rate } = readWave(fileOf(kind, bits, 1, [0, 0.5, -0.5]), 'a.wav');
    expect(rate).toBe(8_000);
    [0, 0.5, -0.5].forEach((value, index) => {
      expect(samples[index]).toBeCloseTo(value, 1);
    });
  });

  it('averages channels', () => {
    const { samples } = readWave(fileOf(3, 32, 2, [0.5, 0.25, -1, 1]), 'a.wav');
    expect([...samples]).toEqual([0.375, 0]);
  });

  it('reads back what was written', () => {
    fc.assert(
      fc.property(fc.array(fc.float({ min: -1, max: 1, noNaN: true })), (values) => {
        const { samples } = readWave(
          writeWave({ samples: Float32Array.from(values), rate: 16_000 }),
          'a.wav',
        );
        expect(samples.length).toBe(values.length);
        samples.forEach((sample, index) => {
          expect(Math.abs(sample - (values[index] ?? 9))).toBeLessThan(0.001);
        });
      }),
    );
  });
});

describe('When a file is no sound', () => {
  const good = writeWave({ samples: new Float32Array(100), rate: 16_000 });
  it.each([
    ['an empty one', new Uint8Array(0), 'wave_empty'],
    ['a text', new TextEncoder().encode('three hundred fifty'), 'wave_not_riff'],
    ['a truncated one', good.subarray(0, 100), 'wave_truncated'],
    ['a bare header', good.subarray(0, 12), 'wave_truncated'],
    ['a packed one', fileOf(85, 16, 1, [0]), 'wave_format'],
  ])('names %s', (_, bytes, code) => {
    const fault = faultOf(bytes);
    expect(fault.code).toBe(code);
    expect(fault.message).toContain('reading.wav');
  });
});
