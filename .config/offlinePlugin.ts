import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, posix, relative, resolve, sep } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build, type Plugin, type ResolvedConfig } from 'vite';
import { cacheControl, pagePolicy, securityHeaders } from '../src/app/headers.ts';
import type { KeptFile } from '../src/app/offline/keptFile.ts';

const entry = resolve(import.meta.dirname, '../src/app/offline/worker/serviceWorker.ts');
const ownName = 'service-worker.js';

/** Vite's own preview compresses text only, and the ear's program and model are neither. */
const types: Readonly<Record<string, string>> = {
  '.wasm': 'application/wasm',
  '.bin': 'application/octet-stream',
  '.dict': 'application/octet-stream',
};

/** Every file of a build but maps and the service worker, which can not vouch for itself. */
function filesOf(folder: string, later: RegExp): KeptFile[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((found) => found.isFile() && !found.name.endsWith('.map') && found.name !== ownName)
    .map((found) => {
      const file = join(found.parentPath, found.name);
      const path = relative(folder, file).replaceAll(sep, posix.sep);
      const content = readFileSync(file);
      const sha256 = createHash('sha256').update(content).digest('hex');
      return { path, sha256, bytes: content.length, later: later.test(path) };
    })
    .sort((one, other) => (one.path < other.path ? -1 : 1));
}

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

/**
 * Write the service worker of a build when all its other files stand, with their names and sums, and
 * serve a build with the headers it is meant to have.
 *
 * @param later - files that are kept after all the rest
 */
export function offlinePlugin({ later }: { later: RegExp }): Plugin[] {
  let config: ResolvedConfig;
  return [
    {
      name: 'offline',
      apply: 'build',
      configResolved(resolved) {
        config = resolved;
      },
      transformIndexHtml: () => [
        {
          tag: 'meta',
          attrs: { 'http-equiv': 'Content-Security-Policy', content: pagePolicy },
          injectTo: 'head-prepend',
        },
      ],
      closeBundle: {
        order: 'post',
        sequential: true,
        async handler() {
          const folder = resolve(config.root, config.build.outDir);
          const files = filesOf(folder, later);
          await build({
            configFile: false,
            publicDir: false,
            logLevel: 'warn',
            mode: config.mode,
            define: { BUILD_FILES: JSON.stringify(files) },
            build: {
              outDir: folder,
              emptyOutDir: false,
              target: config.build.target,
              rolldownOptions: {
                input: entry,
                output: { format: 'iife', entryFileNames: ownName },
              },
            },
          });
          if ((config.logLevel ?? 'info') !== 'info') return;
          const gzipped = (late: boolean) =>
            files
              .filter((file) => file.later === late)
              .reduce(
                (sum, { path }) => sum + gzipSync(readFileSync(join(folder, path))).length,
                0,
              );
          config.logger.info(
            `${files.length} files for the time offline, gzip: ${megabytes(gzipped(false))}, ` +
              `then ${megabytes(gzipped(true))} of voice`,
          );
        },
      },
    },
    {
      name: 'served-as-built',
      configurePreviewServer({ middlewares, config: { root, build } }) {
        const folder = resolve(root, build.outDir);
        const compressed = new Map<string, Buffer>();
        middlewares.use((request, response, next) => {
          const path = decodeURI(new URL(request.url ?? '/', 'http://localhost').pathname).slice(1);
          response.setHeaders(new Map(Object.entries(securityHeaders)));
          response.setHeader('Cache-Control', cacheControl(path));
          const type = types[posix.extname(path)];
          const accepted = /\bgzip\b/.test(String(request.headers['accept-encoding']));
          const file = join(folder, path);
          if (type === undefined || !accepted || !file.startsWith(folder) || !existsSync(file)) {
            next();
            return;
          }
          const body = compressed.get(file) ?? gzipSync(readFileSync(file));
          compressed.set(file, body);
          response.setHeader('Content-Type', type);
          response.setHeader('Content-Encoding', 'gzip');
          response.setHeader('Content-Length', body.length);
          response.end(body);
        });
      },
    },
  ];
}
