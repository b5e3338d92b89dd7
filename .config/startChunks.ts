/** What a bundler knows of a module, as far as it is asked here. */
interface Module {
  readonly importedIds: readonly string[];
}

export interface Graph {
  getModuleInfo(id: string): Module | null;
}

/** Everything that is there once the first module is: all that it imports, and so on. */
function reachedFrom(first: string, graph: Graph): Set<string> {
  const reached = new Set([first]);
  // What is added while the set is walked is walked too.
  for (const id of reached)
    for (const next of graph.getModuleInfo(id)?.importedIds ?? []) reached.add(next);
  return reached;
}

/**
 * Two files for the start of the app in place of fifty: what the first picture needs, and what the desk
 * needs. Screens that are opened later keep files of their own. Each file is a request that the service
 * worker answers, and they all stand before the ear.
 *
 * @param first - the module that the page names
 * @param then - the module that it loads at once
 * @returns the name of the file for a module, or undefined where the bundler may choose
 */
export function startChunks(
  first: string,
  then: string,
): (id: string, graph: Graph) => string | undefined {
  let known: { graph: Graph; paint: Set<string>; start: Set<string> } | undefined;
  return (id, graph) => {
    if (known?.graph !== graph) {
      known = { graph, paint: reachedFrom(first, graph), start: reachedFrom(then, graph) };
    }
    // It waits for the desk, which would wait for it within one file with what both need.
    if (id === first) return undefined;
    if (known.paint.has(id)) return 'first';
    return known.start.has(id) ? 'start' : undefined;
  };
}
