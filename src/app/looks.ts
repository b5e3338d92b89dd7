/** The same person who opens the same entry again within this time has not looked anew, ms. */
export const sameLook = 10 * 60_000;

/** Who looked at what, so that turning to and fro is one look in the record. */
export class Looks {
  readonly #at = new Map<string, number>();

  /** True when this look is to be recorded; it is taken as recorded then. */
  isNew(initials: string, entry: string, ms: number): boolean {
    const key = keyOf(initials, entry);
    const before = this.#at.get(key);
    if (before !== undefined && Math.abs(ms - before) < sameLook) return false;
    this.#at.set(key, ms);
    return true;
  }

  /** It could not be recorded: the next look is new. */
  forget(initials: string, entry: string): void {
    this.#at.delete(keyOf(initials, entry));
  }
}

function keyOf(initials: string, entry: string): string {
  return `${initials} ${entry}`;
}
