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

/** What draws the screens. It changes seldom, and the page reads it in a turn of its own. */
const drawing = /\/node_modules\/(?:svelte|esm-env|clsx)\//;

/**
 * Three files for the start of the app in place of fifty: what begins the ear, what draws, and what the
 * desk needs. Screens that are opened later keep files of their own. Each file is a request that the
 * service worker answers, and they all stand before the ear.
 *
 * @param page - the module that the page names; what it imports runs before all else
 * @param desk - the module that it loads at once
 * @returns the name of the file for a module, or undefined where the bundler may choose
 */
export function startChunks(
  page: string,
  desk: string,
): (id: string, graph: Graph) => string | undefined {
  let known: { graph: Graph; page: Set<string>; desk: Set<string> } | undefined;
  return (id, graph) => {
    if (known?.graph !== graph) {
      known = { graph, page: reachedFrom(page, graph), desk: reachedFrom(desk, graph) };
    }
    // It waits for the desk, which would wait for it within one file with what both need.
    if (id === page) return undefined;
    if (known.page.has(id)) return 'first';
    if (!known.desk.has(id)) return undefined;
    return drawing.test(id) ? 'drawing' : 'start';
  };
}

/** Whether the page itself names a file: asking for it again costs a slow page more than it brings. */
export const namedByPage = (file: string): boolean =>
  /(?:^|\/)(?:first|rolldown-runtime)-[^/]+$/.test(file);
