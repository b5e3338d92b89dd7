import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

const here = import.meta.dirname;

export default defineConfig({
  root: resolve(here, 'src'),
  publicDir: resolve(here, 'src/static'),
  plugins: [svelte()],
  build: { outDir: resolve(here, 'dist'), emptyOutDir: true, target: 'es2023' },
  worker: { format: 'es' },
  preview: { port: 4173 },
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
          ],
          exclude: ['src/**/*.svelte.test.ts', 'src/screens/**'],
          environment: 'node',
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
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
