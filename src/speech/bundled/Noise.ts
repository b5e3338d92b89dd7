const SQRT_3 = Math.sqrt(3);

/** White noise of power 1, the same every time: an engine that hears the same decides the same. */
export class Noise {
  #state = 1;

  /** The next sample: any value from -1.73 to 1.73 is as likely as another. */
  next(): number {
    // Numerical Recipes' generator of 32 bits: good enough for a hiss.
    this.#state = (Math.imul(this.#state, 1664525) + 1013904223) >>> 0;
    return SQRT_3 * (this.#state / 2 ** 31 - 1);
  }
}
