/** The part of the worklet's own scope that this file uses; no library of TypeScript names it. */
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;

/** Samples that are sent at once: 20 ms at 48 kHz, so that the worker is not woken 375 times a second. */
const BATCH = 960;

/** Hands the microphone's sound to the worker, past the page's own thread. */
class Capture extends AudioWorkletProcessor {
  #out: MessagePort | undefined;
  #batch = new Float32Array(BATCH);
  #filled = 0;

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<MessagePort>) => {
      this.#out = data;
    };
  }

  process([input]: Float32Array[][]): boolean {
    const channels = input ?? [];
    const length = channels[0]?.length ?? 0;
    for (let index = 0; index < length; index += 1) {
      let sum = 0;
      for (const channel of channels) sum += channel[index] ?? 0;
      this.#batch[this.#filled] = sum / channels.length;
      this.#filled += 1;
      if (this.#filled === BATCH) this.#send();
    }
    return true;
  }

  #send(): void {
    this.#out?.postMessage(this.#batch, [this.#batch.buffer]);
    this.#batch = new Float32Array(BATCH);
    this.#filled = 0;
  }
}

registerProcessor('capture', Capture);
