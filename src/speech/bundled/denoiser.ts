/** Samples of one frame: 10 ms at 48 kHz, the only size the net knows. */
export const denoiserFrame = 480;

interface RnnoiseModule {
  readonly HEAPF32: Float32Array;
  _malloc(bytes: number): number;
  _rnnoise_create(model: number): number;
  _rnnoise_destroy(state: number): void;
  _rnnoise_process_frame(state: number, output: number, input: number): number;
}

/** Makes the module of `@echogarden/rnnoise-wasm`. */
export type RnnoiseFactory = (options: object) => Promise<unknown>;

/** RNNoise with its state kept from frame to frame. */
export class Denoiser {
  readonly #module: RnnoiseModule;
  readonly #buffer: number;
  #state: number;

  private constructor(module: RnnoiseModule) {
    this.#module = module;
    this.#buffer = module._malloc(denoiserFrame * 4);
    this.#state = module._rnnoise_create(0);
  }

  static async open(create: RnnoiseFactory): Promise<Denoiser> {
    return new Denoiser((await create({})) as RnnoiseModule);
  }

  /** Clean one frame in place. @returns how likely it holds a voice, 0 to 1 */
  process(frame: Float32Array): number {
    const start = this.#buffer / 4;
    // The net was taught on 16-bit numbers.
    for (let index = 0; index < denoiserFrame; index += 1) {
      this.#module.HEAPF32[start + index] = (frame[index] ?? 0) * 0x8000;
    }
    const voice = this.#module._rnnoise_process_frame(this.#state, this.#buffer, this.#buffer);
    for (let index = 0; index < denoiserFrame; index += 1) {
      frame[index] = (this.#module.HEAPF32[start + index] ?? 0) / 0x8000;
    }
    return voice;
  }

  /** Forget what was heard so far. */
  reset(): void {
    this.#module._rnnoise_destroy(this.#state);
    this.#state = this.#module._rnnoise_create(0);
  }
}
