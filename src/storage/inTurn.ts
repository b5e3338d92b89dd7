/** Does one thing after the other, in the order they were asked for; one that fails stops none. */
export class InTurn {
  #last: Promise<unknown> = Promise.resolve();

  /** Done, or failed, as the work itself. */
  run<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#last.then(work);
    this.#last = turn.catch(() => undefined);
    return turn;
  }

  /** Done when nothing that was asked for so far is under way. */
  async settled(): Promise<void> {
    await this.#last;
  }
}
