import type { Procedure } from './schema.ts';

/** The procedures that one may hand over to at a failed check, and those that they hand over to. */
export function successorsIn(all: readonly Procedure[], { id, steps }: Procedure): Procedure[] {
  const found = new Set<string>([id]);
  const waiting = [...steps];
  for (let step = waiting.pop(); step !== undefined; step = waiting.pop()) {
    const { otherwise } = step;
    if (otherwise === undefined || found.has(otherwise)) continue;
    found.add(otherwise);
    waiting.push(...(all.find((each) => each.id === otherwise)?.steps ?? []));
  }
  return all.filter((each) => each.id !== id && found.has(each.id));
}
