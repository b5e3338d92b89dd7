/** How sure we are of a source: F read, P found but quoted from memory, W weak, M from memory. */
export type Grade = 'F' | 'P' | 'W' | 'M';

/** A default value with where it comes from, so that a unit can judge it before keeping it. */
export interface Listed<Item> {
  readonly item: Item;
  readonly source: string;
  readonly grade: Grade;
}
