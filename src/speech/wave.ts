/** Sound as numbers: mono, -1 to 1. */
export interface Wave {
  readonly samples: Float32Array;
  /** Samples a second. */
  readonly rate: number;
}

export type WaveFault = 'wave_empty' | 'wave_not_riff' | 'wave_truncated' | 'wave_format';

/** A sound file that can not be read. The message names the file. */
export class WaveError extends Error {
  override readonly name = 'WaveError';
  readonly code: WaveFault;

  constructor(code: WaveFault, source: string, detail: string) {
    super(`${code}: ${source}: ${detail}`);
    this.code = code;
  }
}

const tagAt = (view: DataView, at: number): string =>
  String.fromCharCode(...[0, 1, 2, 3].map((offset) => view.getUint8(at + offset)));

/**
 * Read a RIFF WAVE file: PCM of 8, 16, 24 or 32 bits or 32-bit floats, any rate; channels are
 * averaged into one.
 *
 * @param source - the file's name, for messages
 * @throws {WaveError} `wave_empty`, `wave_not_riff`, `wave_truncated`, `wave_format`
 */
export function readWave(bytes: Uint8Array, source: string): Wave {
  if (bytes.length === 0) throw new WaveError('wave_empty', source, 'the file has no bytes');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12 || tagAt(view, 0) !== 'RIFF' || tagAt(view, 8) !== 'WAVE') {
    throw new WaveError('wave_not_riff', source, 'expected a RIFF WAVE header');
  }
  let format: { kind: number; channels: number; rate: number; bits: number } | undefined;
  for (let at = 12; at + 8 <= bytes.length;) {
    const tag = tagAt(view, at);
    const size = view.getUint32(at + 4, true);
    const body = at + 8;
    if (tag === 'fmt ') {
      if (size < 16 || body + size > bytes.length) break;
      const stated = view.getUint16(body, true);
      format = {
        // An extensible header keeps the true format in the first bytes of its sub-format.
        kind: stated === 0xfffe && size >= 26 ? view.getUint16(body + 24, true) : stated,
        channels: view.getUint16(body + 2, true),
        rate: view.getUint32(body + 4, true),
        bits: view.getUint16(body + 14, true),
      };
    } else if (tag === 'data') {
      if (format === undefined) throw new WaveError('wave_format', source, 'data before fmt');
      if (body + size > bytes.length) {
        throw new WaveError(
          'wave_truncated',
          source,
          `${size} bytes of sound announced, ${bytes.length - body} there`,
        );
      }
      return samplesOf(view, body, size, format, source);
    }
    at = body + size + (size % 2);
  }
  throw new WaveError('wave_truncated', source, 'no sound in the file');
}

function samplesOf(
  view: DataView,
  start: number,
  size: number,
  format: { kind: number; channels: number; rate: number; bits: number },
  source: string,
): Wave {
  const { kind, channels, rate, bits } = format;
  const width = bits / 8;
  const known = (kind === 1 && [8, 16, 24, 32].includes(bits)) || (kind === 3 && bits === 32);
  if (!known || channels === 0 || rate === 0) {
    throw new WaveError(
      'wave_format',
      source,
      `format ${kind}, ${bits} bits, ${channels} channels, ${rate} Hz`,
    );
  }
  const read = (at: number): number => {
    if (kind === 3) return view.getFloat32(at, true);
    if (bits === 8) return (view.getUint8(at) - 128) / 128;
    if (bits === 16) return view.getInt16(at, true) / 0x8000;
    if (bits === 24) return (view.getUint16(at, true) + view.getInt8(at + 2) * 0x10000) / 0x800000;
    return view.getInt32(at, true) / 0x80000000;
  };
  const samples = new Float32Array(Math.floor(size / (width * channels)));
  for (let index = 0; index < samples.length; index += 1) {
    let sum = 0;
    for (let channel = 0; channel < channels; channel += 1) {
      sum += read(start + (index * channels + channel) * width);
    }
    samples[index] = sum / channels;
  }
  return { samples, rate };
}

/** Write mono 16-bit PCM; louder than 1 is clipped. */
export function writeWave({ samples, rate }: Wave): Uint8Array {
  const bytes = new Uint8Array(44 + samples.length * 2);
  const view = new DataView(bytes.buffer);
  const tag = (at: number, text: string): void => {
    for (let index = 0; index < text.length; index += 1) bytes[at + index] = text.charCodeAt(index);
  };
  tag(0, 'RIFF');
  view.setUint32(4, 36 + samples.length * 2, true);
  tag(8, 'WAVE');
  tag(12, 'fmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * 2, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  tag(36, 'data');
  view.setUint32(40, samples.length * 2, true);
  samples.forEach((sample, index) => {
    const value = Math.max(-1, Math.min(1, sample));
    view.setInt16(44 + index * 2, Math.round(value * 0x7fff), true);
  });
  return bytes;
}
