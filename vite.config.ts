import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import { createReadStream } from 'node:fs';
import { resolve } from 'node:path';
import type { BuildOptions, ViteDevServer } from 'vite';
import { defineConfig } from 'vitest/config';
import { makeEarFiles } from './.config/earFiles.ts';
import { earRunsFirst } from './.config/earRunsFirst.ts';
import { offlinePlugin } from './.config/offlinePlugin.ts';
import { openingPicture } from './.config/openingPicture.ts';
import { namedByPage, startChunks } from './.config/startChunks.ts';
import { developmentHeaders, securityHeaders } from './src/app/headers.ts';

const here = import.meta.dirname;
const source = (file: string): string => resolve(here, 'src', file);

/** Some files of the speech model have no extension, and would end in a bare dot. */
const assetFileNames = ({ names }: { names: string[] }): string =>
  names[0]?.includes('.') === true ? 'assets/[name]-[hash][extname]' : 'assets/[name]-[hash].bin';

/** The development server takes a file without an extension for a script, and a program for one of the page's; these are data. */
const speechModel = {
  name: 'speech-model',
  configureServer(server: ViteDevServer): void {
    server.middlewares.use((request, response, next) => {
      const path =
        /^[^?]*(\/node_modules\/(?:soundswallower\/model\/[\w/-]+|\.gloveside\/[\w-]+\/\w+\.\w+))(?:\?no-inline)?$/.exec(
          request.url ?? '',
        )?.[1];
      if (path === undefined) {
        next();
        return;
      }
      response.setHeader('Content-Type', 'application/octet-stream');
      createReadStream(resolve(here, `.${path}`)).pipe(response);
    });
  },
};

/** What a newcomer would take for a fault: how long plugins took. */
const quietly = { checks: { pluginTimings: false } } satisfies BuildOptions['rolldownOptions'];

makeEarFiles();

export default defineConfig({
  root: resolve(here, 'src'),
  cacheDir: resolve(here, 'node_modules/.vite'),
  publicDir: resolve(here, 'src/static'),
  plugins: [
    svelte({ configFile: false }),
    speechModel,
    earRunsFirst,
    openingPicture,
    // 14 MB that a device with a voice of its own never needs: kept, but after all the rest.
    offlinePlugin({ later: /^assets\/flite-[^/]*\.wasm$/ }),
  ],
  // The speech engine imports a polyfill that asks for a document; its worker has none.
  resolve: {
    alias: { 'blob-polyfill': resolve(here, 'src/speech/bundled/worker/noBlob.ts') },
  },
  // Pre-bundling would part it from the wasm file beside it.
  optimizeDeps: { exclude: ['soundswallower'] },
  build: {
    outDir: resolve(here, 'dist'),
    emptyOutDir: true,
    target: 'es2023',
    modulePreload: {
      resolveDependencies: (_file, files, { hostType }) =>
        hostType === 'js' ? files.filter((file) => !namedByPage(file)) : files,
    },
    rolldownOptions: {
      ...quietly,
      output: {
        assetFileNames,
        codeSplitting: {
          groups: [{ name: startChunks(source('main.ts'), source('start.ts')) }],
        },
      },
    },
  },
  worker: { format: 'es', rolldownOptions: { ...quietly, output: { assetFileNames } } },
  server: { headers: { ...developmentHeaders } },
  preview: { port: 4173, headers: { ...securityHeaders } },
  test: {
    projects: [
      {
        extends: true,
        root: here,
        test: {
          name: 'units',
          include: [
            'src/**/*.test.ts',
            'tests/published/**/*.test.ts',
            'tests/grammars/**/*.test.ts',
            'tests/instruments/**/*.test.ts',
            'tests/bench/**/*.test.ts',
            'tests/support/**/*.test.ts',
          ],
          exclude: ['src/**/*.svelte.test.ts', 'src/screens/**'],
          environment: 'node',
          // Modules are read once for all files, which halves the time; each test clears up after itself.
          isolate: false,
          // A whole range of numbers takes seconds, and longer on a busy machine.
          testTimeout: 30_000,
        },
      },
      {
        extends: true,
        root: here,
        plugins: [svelteTesting()],
        test: {
          name: 'components',
          include: ['src/**/*.svelte.test.ts', 'src/screens/**/*.test.ts'],
          environment: 'jsdom',
          isolate: false,
          testTimeout: 30_000,
          setupFiles: ['tests/support/components.ts'],
        },
      },
      {
        extends: true,
        root: here,
        test: {
          name: 'journeys',
          include: ['tests/journeys/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['tests/support/servedApp.ts'],
          // One real browser at a time, and only once the quick tests have left the processor.
          fileParallelism: false,
          sequence: { groupOrder: 1 },
          // Real sound on a busy machine may come to nothing once; what fails twice is a fault.
          retry: 1,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        extends: true,
        root: here,
        test: {
          name: 'long',
          include: ['tests/long/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['tests/support/servedApp.ts'],
          fileParallelism: false,
          retry: 1,
          testTimeout: 600_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
