/** Quiet frames of 10 ms that go along with a voice: the T of "next" is one, and comes late. */
const TAIL = 15;

/**
 * Keeps back the quiet within an utterance until the voice goes on.
 *
 * The quiet after the last word is as long as many a word. A search that has to lay something over it
 * lays words there that are next to nothing but a hiss ("amber" becomes "amber bits"), and takes as
 * long for it as for speech.
 */
export class HeldBack<Frame> {
  #quiet = 0;
  #held: Frame[] = [];

  /** @returns the frames that belong to the utterance now, in order */
  pass(frame: Frame, isVoice: boolean): readonly Frame[] {
    this.#quiet = isVoice ? 0 : this.#quiet + 1;
    this.#held.push(frame);
    return this.#quiet > TAIL ? [] : this.#held.splice(0);
  }

  /** The utterance is over: what is still held was the quiet after it. */
  drop(): void {
    this.#quiet = 0;
    this.#held = [];
  }
}
