import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

/** The tests of the machines, each taken arrow written down. */
export default defineConfig({
  root: resolve(import.meta.dirname, '..'),
  test: {
    include: ['src/conversation/**/*.test.ts', 'src/app/**/*.test.ts'],
    exclude: ['src/**/*.svelte.test.ts', 'src/conversation/restore.test.ts'],
    environment: 'node',
    setupFiles: ['tests/support/recordTransitions.ts'],
  },
});
