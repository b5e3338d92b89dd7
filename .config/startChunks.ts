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
 * Three files for the start of the app in place of fifty: what begins the ear, what the first picture
 * needs, and what the desk needs. Screens that are opened later keep files of their own. Each file is a
 * request that the service worker answers, and they all stand before the ear.
 *
 * @param page - the module that the page names
 * @param ear - the module that it runs before all else
 * @param desk - the module that it loads at once
 * @returns the name of the file for a module, or undefined where the bundler may choose
 */
export function startChunks(
  page: string,
  ear: string,
  desk: string,
): (id: string, graph: Graph) => string | undefined {
  let known: { graph: Graph; ear: Set<string>; page: Set<string>; desk: Set<string> } | undefined;
  return (id, graph) => {
    if (known?.graph !== graph) {
      const from = (first: string) => reachedFrom(first, graph);
      known = { graph, ear: from(ear), page: from(page), desk: from(desk) };
    }
    // It waits for the desk, which would wait for it within one file with what both need.
    if (id === page) return undefined;
    if (known.ear.has(id)) return 'ear';
    if (known.page.has(id)) return 'first';
    return known.desk.has(id) ? 'start' : undefined;
  };
}

/** Whether the page itself names a file: asking for it again costs a slow page more than it brings. */
export const namedByPage = (file: string): boolean =>
  /(?:^|\/)(?:ear|first|rolldown-runtime)-[^/]+$/.test(file);
