/** Work that can be given up while it runs: once, and only until it is over. */
export class Stopping {
  #running = $state.raw<AbortController | null>(null);

  /** Whether something runs that nobody has given up yet. */
  get possible(): boolean {
    return this.#running !== null;
  }

  /** @returns what the work watches, to end when it is given up */
  begin(): AbortSignal {
    this.#running = new AbortController();
    return this.#running.signal;
  }

  stop(): void {
    this.#running?.abort();
    this.#running = null;
  }

  over(): void {
    this.#running = null;
  }
}
