/** A seeded source of numbers from 0 to 1, so that every run makes the same noise (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Noise that falls by 3 dB an octave: a row of one-pole filters over white noise. */
export function pinkNoise(length: number, seed: number): Float32Array {
  const random = seeded(seed);
  const poles = [0.99886, 0.99332, 0.969, 0.8665, 0.55, -0.7616];
  const gains = [0.0555179, 0.0750759, 0.153852, 0.3104856, 0.5329522, -0.016898];
  const held = new Float64Array(poles.length);
  return Float32Array.from({ length }, () => {
    const white = random() * 2 - 1;
    let sum = white * 0.5362;
    for (let index = 0; index < poles.length; index += 1) {
      held[index] = (poles[index] ?? 0) * (held[index] ?? 0) + white * (gains[index] ?? 0);
      sum += held[index] ?? 0;
    }
    return sum * 0.11;
  });
}

/** Many voices at once: each clip loops from a place of its own. */
export function babble(clips: readonly Float32Array[], length: number, seed: number): Float32Array {
  const random = seeded(seed);
  const sum = new Float32Array(length);
  for (const clip of clips) {
    const offset = Math.floor(random() * clip.length);
    const gain = 0.1 / Math.max(1e-6, speechLevel(clip));
    for (let index = 0; index < length; index += 1) {
      sum[index] = (sum[index] ?? 0) + gain * (clip[(index + offset) % clip.length] ?? 0);
    }
  }
  return sum;
}

const rms = (samples: Float32Array): number =>
  Math.sqrt(
    samples.reduce((sum, sample) => sum + sample * sample, 0) / Math.max(1, samples.length),
  );

/** Root mean square over the 20 ms pieces within 30 dB of the loudest: the speech, not its pauses. */
export function speechLevel(samples: Float32Array, rate = 16_000): number {
  const size = Math.round(rate / 50);
  const levels: number[] = [];
  for (let at = 0; at + size <= samples.length; at += size) {
    levels.push(rms(samples.subarray(at, at + size)));
  }
  const loud = levels.filter((level) => level > Math.max(0, ...levels) * 10 ** (-30 / 20));
  return Math.sqrt(loud.reduce((sum, level) => sum + level * level, 0) / Math.max(1, loud.length));
}

/** Lay noise under speech. @param decibels - speech, without its pauses, over noise */
export function mixAt(speech: Float32Array, noise: Float32Array, decibels: number): Float32Array {
  const gain = speechLevel(speech) / Math.max(1e-9, rms(noise)) / 10 ** (decibels / 20);
  const mixed = speech.map((sample, index) => sample + gain * (noise[index % noise.length] ?? 0));
  const peak = mixed.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  return peak > 1 ? mixed.map((sample) => sample / peak) : mixed;
}

/** Put silence before and after. @param seconds - at each end */
export function pad(samples: Float32Array, seconds: number, rate = 16_000): Float32Array {
  const edge = Math.round(seconds * rate);
  const padded = new Float32Array(samples.length + 2 * edge);
  padded.set(samples, edge);
  return padded;
}
