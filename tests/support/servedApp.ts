import type { TestProject } from 'vitest/node';
import { findBrowser } from './findBrowser.ts';
import { builtApp, serve } from './server.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the built app is served, with a closing slash. */
    baseUrl: string;
    /** The folder of that build, for a journey that starts and stops a server of its own. */
    dist: string;
    /** The browser's program. */
    browserPath: string;
  }
}

/**
 * Build the app once and serve it for all journeys; `DIST` names a build that is ready.
 *
 * A journey reads `inject('baseUrl')`.
 */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const browserPath = findBrowser();
  const build = await builtApp();
  const server = await serve(build.folder).catch(async (error: unknown) => {
    await build.remove();
    throw error;
  });
  project.provide('baseUrl', server.url);
  project.provide('dist', build.folder);
  project.provide('browserPath', browserPath);
  return async () => {
    await server.close();
    await build.remove();
  };
}
