/** Samples of one frame: 10 ms at 48 kHz, the only size the net knows. */
export const denoiserFrame = 480;

/**
 * How many frames later the net's sound comes out: one until its windows overlap, one since it looks
 * ahead by as much.
 */
export const denoiserDelay = 2;

/** RNNoise as its package was built, which left its functions with single letters. */
interface Rnnoise {
  readonly c: WebAssembly.Memory;
  readonly d: () => void;
  readonly e: (bytes: number) => number;
  readonly h: (model: number) => number;
  readonly i: (state: number) => void;
  readonly j: (state: number, output: number, input: number) => number;
}

/** Bytes of memory that grows by itself. */
const page = 0x1_0000;

/** RNNoise with its state kept from frame to frame. */
export class Denoiser {
  readonly #net: Rnnoise;
  readonly #buffer: number;
  #state: number;

  private constructor(net: Rnnoise) {
    this.#net = net;
    this.#buffer = net.e(denoiserFrame * 4);
    this.#state = net.h(0);
  }

  /**
   * @param program - of `@timephy/rnnoise-wasm`
   * @throws {WebAssembly.CompileError} when it is not one
   */
  static async open(program: BufferSource): Promise<Denoiser> {
    let net: Rnnoise | undefined = undefined;
    const memory = (): WebAssembly.Memory => {
      if (net === undefined) throw new Error('no_net: it asked for memory before it was there');
      return net.c;
    };
    const { instance } = await WebAssembly.instantiate(program, {
      a: {
        /** Ask for more memory. @returns 1 where there is as much */
        a: (bytes: number): number => {
          const more = Math.ceil((bytes - memory().buffer.byteLength) / page);
          return more <= 0 || grows(memory(), more) ? 1 : 0;
        },
        b: (to: number, from: number, bytes: number): void => {
          new Uint8Array(memory().buffer).copyWithin(to, from, from + bytes);
        },
      },
    });
    net = instance.exports as unknown as Rnnoise;
    net.d();
    return new Denoiser(net);
  }

  /** Clean one frame in place. @returns how likely it holds a voice, 0 to 1 */
  process(frame: Float32Array): number {
    const sound = this.#sound();
    // The net was taught on 16-bit numbers.
    for (let index = 0; index < denoiserFrame; index += 1) {
      sound[index] = (frame[index] ?? 0) * 0x8000;
    }
    const voice = this.#net.j(this.#state, this.#buffer, this.#buffer);
    // The memory may have grown, which leaves the view before it empty.
    const cleaned = this.#sound();
    for (let index = 0; index < denoiserFrame; index += 1) {
      frame[index] = (cleaned[index] ?? 0) / 0x8000;
    }
    return voice;
  }

  /** Forget what was heard so far. */
  reset(): void {
    this.#net.i(this.#state);
    this.#state = this.#net.h(0);
  }

  #sound(): Float32Array {
    return new Float32Array(this.#net.c.buffer, this.#buffer, denoiserFrame);
  }
}

function grows(memory: WebAssembly.Memory, pages: number): boolean {
  try {
    memory.grow(pages);
    return true;
  } catch {
    return false;
  }
}
