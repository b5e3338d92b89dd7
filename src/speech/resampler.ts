/** Zero crossings of the windowed sinc on each side; 24 keeps the images under -80 dB. */
const CROSSINGS = 24;
/** Part of the narrower band that passes; the rest is the filter's slope. */
const PASSBAND = 0.94;
/** Steps of the kernel table between two crossings; the kernel is read with linear interpolation. */
const TABLE_STEPS = 256;

/** Kernels kept: 44.1 to 48 kHz needs 160, and 16 to 48 kHz 3. */
const MOST_OFFSETS = 512;

/** Kaiser's window at `at` of -1 to 1, beta 9. */
function kaiser(at: number): number {
  const bessel = (x: number): number => {
    let sum = 1;
    let term = 1;
    for (let n = 1; n < 30; n += 1) {
      term *= (x / (2 * n)) ** 2;
      sum += term;
    }
    return sum;
  };
  return bessel(9 * Math.sqrt(Math.max(0, 1 - at * at))) / bessel(9);
}

const kernel = Float32Array.from({ length: CROSSINGS * TABLE_STEPS + 2 }, (_, index) => {
  const x = index / TABLE_STEPS;
  if (x >= CROSSINGS) return 0;
  const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
  return sinc * kaiser(x / CROSSINGS);
});

/**
 * Changes the rate of a stream of sound, keeping its state between pieces.
 *
 * The output is the same however the input is cut. It lags by {@link CROSSINGS} samples of the
 * narrower rate: 1.5 ms at 16 kHz.
 */
export class Resampler {
  readonly #step: number;
  readonly #scale: number;
  readonly #reach: number;
  readonly #taps = new Map<number, Float32Array>();
  #held: Float32Array;
  /** Position of the next output sample, counted in input samples from the start of `#held`. */
  #at: number;

  /** @param from - Hz @param to - Hz */
  constructor(from: number, to: number) {
    this.#step = from / to;
    this.#scale = PASSBAND * Math.min(1, to / from);
    this.#reach = Math.ceil(CROSSINGS / this.#scale);
    this.#held = new Float32Array(this.#reach);
    this.#at = this.#reach;
  }

  /** Take the next piece; give what can be said for sure so far. */
  push(piece: Float32Array): Float32Array {
    if (this.#step === 1) return piece;
    const input = new Float32Array(this.#held.length + piece.length);
    input.set(this.#held);
    input.set(piece, this.#held.length);
    const count = Math.max(0, Math.ceil((input.length - this.#reach - this.#at) / this.#step));
    const output = new Float32Array(count);
    for (let index = 0; index < count; index += 1) {
      output[index] = this.#sampleAt(input, this.#at + index * this.#step);
    }
    this.#at += count * this.#step;
    const drop = Math.min(input.length, Math.max(0, Math.floor(this.#at) - this.#reach));
    this.#held = input.slice(drop);
    this.#at -= drop;
    return output;
  }

  /** The last samples, as if silence followed. */
  flush(): Float32Array {
    return this.push(new Float32Array(this.#reach));
  }

  #sampleAt(input: Float32Array, at: number): number {
    const first = Math.max(0, Math.ceil(at - this.#reach));
    const last = Math.min(input.length - 1, Math.floor(at + this.#reach));
    const taps = this.#tapsAt(at - Math.floor(at));
    const base = Math.floor(at) - this.#reach;
    let sum = 0;
    for (let index = first; index <= last; index += 1) {
      sum += (input[index] ?? 0) * (taps[index - base] ?? 0);
    }
    return sum;
  }

  /** The kernel at one offset between two samples; between common rates there are only a few. */
  #tapsAt(offset: number): Float32Array {
    const key = Math.round(offset * 1e6);
    const known = this.#taps.get(key);
    if (known !== undefined) return known;
    const taps = Float32Array.from({ length: 2 * this.#reach + 1 }, (_, index) => {
      const place = Math.abs(index - this.#reach - offset) * this.#scale * TABLE_STEPS;
      const below = Math.floor(place);
      const left = kernel[below] ?? 0;
      const right = kernel[below + 1] ?? 0;
      return this.#scale * (left + (right - left) * (place - below));
    });
    if (this.#taps.size < MOST_OFFSETS) this.#taps.set(key, taps);
    return taps;
  }
}

/** A whole sound at another rate. */
export function resample(samples: Float32Array, from: number, to: number): Float32Array {
  if (from === to) return samples;
  const resampler = new Resampler(from, to);
  const head = resampler.push(samples);
  const tail = resampler.flush();
  const joined = new Float32Array(head.length + tail.length);
  joined.set(head);
  joined.set(tail, head.length);
  return joined.slice(0, Math.ceil((samples.length * to) / from));
}
