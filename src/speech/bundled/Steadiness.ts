/** Frames of 10 ms that are looked back on. */
const FRAMES = 40;
/** White noise moves by less than 1 dB between its quieter and its louder tenth; a voice 3 dB over it by 3. */
const LEAST_SPREAD = 2;

/**
 * Whether a sound stays at one loudness, as a tap or a fan does and nobody who speaks. In the first
 * third of a second of such a noise the net does not know it yet and may be sure of a voice.
 */
export class Steadiness {
  #levels: number[] = [];

  /** @param level - of the next frame, dB */
  add(level: number): void {
    this.#levels.push(level);
    if (this.#levels.length > FRAMES) this.#levels.shift();
  }

  get isSteady(): boolean {
    const sorted = this.#levels.toSorted((a, b) => a - b);
    const tenth = Math.floor(sorted.length / 10);
    const [quieter, louder] = [sorted[tenth], sorted[sorted.length - 1 - tenth]];
    return quieter === undefined || louder === undefined || louder - quieter < LEAST_SPREAD;
  }

  reset(): void {
    this.#levels = [];
  }
}
