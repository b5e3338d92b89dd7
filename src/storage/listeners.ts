/** A set of listeners; each is told in turn and leaves by the function it was given. */
export class Listeners<T> {
  readonly #set = new Set<(value: T) => void>();

  add(listener: (value: T) => void): () => void {
    // A wrapper of its own, so that a function that is added twice leaves once at a time.
    const own = (value: T): void => listener(value);
    this.#set.add(own);
    return () => void this.#set.delete(own);
  }

  tell(value: T): void {
    for (const listener of [...this.#set]) listener(value);
  }
}
