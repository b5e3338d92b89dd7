import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

/** Only the unit tests: a mutant of the pure floors needs no browser to be found out. */
export default defineConfig({
  root: resolve(import.meta.dirname, '..'),
  test: {
    include: ['src/**/*.test.ts', 'tests/published/**/*.test.ts'],
    exclude: ['src/**/*.svelte.test.ts', 'src/screens/**'],
    environment: 'node',
  },
});
