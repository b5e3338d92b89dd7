import { statSync } from 'node:fs';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { modelPaths } from '../../../tests/support/nodeRecogniser.ts';
import type { ModelFiles } from './engine.ts';
import { fetchOnce, modelBytes } from './fetchOnce.ts';

const files = { mdef: 'https://unit/mdef', words: 'https://unit/words' } as ModelFiles;
const served: Readonly<Record<string, string>> = {
  'https://unit/mdef': 'm'.repeat(1000),
  'https://unit/words': 'three T R IY',
  'https://unit/other': 'other',
};
const server = vi.fn((address: string | URL | Request) => {
  const text = served[address as string];
  return Promise.resolve(new Response(text ?? null, { status: text === undefined ? 404 : 200 }));
});
const textOf = async (address: string): Promise<string> => (await fetch(address)).text();

afterEach(() => {
  vi.unstubAllGlobals();
  server.mockClear();
});

describe('When the engine asks for the files of its model', () => {
  it('they are fetched once, and given as often as it asks', async () => {
    vi.stubGlobal('fetch', server);
    const giveUp = await fetchOnce(files, () => undefined);
    for (let search = 1; search <= 3; search += 1) {
      expect(await textOf('https://unit/mdef')).toBe(served['https://unit/mdef']);
      expect(await textOf('https://unit/words')).toBe('three T R IY');
    }
    expect(server).toHaveBeenCalledTimes(2);
    expect(await textOf('https://unit/other')).toBe('other');
    giveUp();
    await textOf('https://unit/mdef');
    expect(server).toHaveBeenCalledTimes(4);
  });

  it('what the server refuses is refused to the engine too', async () => {
    vi.stubGlobal('fetch', server);
    await fetchOnce({ ...files, means: 'https://unit/gone' }, () => undefined);
    expect((await fetch('https://unit/gone')).status).toBe(404);
  });

  it('tells the share that has come, which only grows', async () => {
    vi.stubGlobal('fetch', server);
    const shares: number[] = [];
    await fetchOnce(files, (share) => shares.push(share));
    expect(shares.length).toBeGreaterThanOrEqual(2);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBeCloseTo(1012 / modelBytes, 9);
  });

  it('reckons by what the files really weigh', () => {
    const paths = Object.values<string>({ ...modelPaths });
    const bytes = paths.reduce((sum, path) => sum + statSync(path).size, 0);
    expect(Math.abs(modelBytes - bytes) / bytes).toBeLessThan(0.02);
  });
});
