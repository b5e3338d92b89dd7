import type { Plugin } from 'vite';

const link = /\s*<link rel="modulepreload"[^>]* href="([^"]*\/first-[^"/]+\.js)">/;
const script = '<script type="module"';

/**
 * Let the file that begins the ear run as soon as it is there. The page's own module imports it too, but
 * runs nothing before all that it imports is read, and the ear takes longest to open.
 *
 * @param html - of a build, with its scripts and links in it
 * @throws {Error} `no_ear` where the build has no such file
 */
export function earBeforeAll(html: string): string {
  const address = link.exec(html)?.[1];
  if (address === undefined || !html.includes(script)) {
    throw new Error('no_ear: the page of the build names no file that begins the ear');
  }
  return html
    .replace(link, '')
    .replace(script, `${script} async crossorigin src="${address}"></script>\n    ${script}`);
}

export const earRunsFirst: Plugin = {
  name: 'ear-runs-first',
  apply: 'build',
  transformIndexHtml: { order: 'post', handler: earBeforeAll },
};
