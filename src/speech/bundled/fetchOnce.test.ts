import { statSync } from 'node:fs';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { denoiserProgram } from '../../../.config/earFiles.ts';
import { modelPaths } from '../../../tests/support/nodeRecogniser.ts';
import { sortByColumn } from './columns.ts';
import type { EarFiles } from './engine.ts';
import { earBytes, fetchOnce } from './fetchOnce.ts';

const files = { mdef: 'https://unit/mdef', words: 'https://unit/words' } as EarFiles;
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

  it('what was sorted for its way is given as the engine knows it', async () => {
    const model = Uint8Array.from({ length: 24 }, (_, index) => 7 * index);
    const column = { bytes: 4, fromAbove: false } as const;
    const sorted = sortByColumn(model, [{ rows: 6, columns: [column] }]);
    vi.stubGlobal('fetch', () => Promise.resolve(new Response(sorted)));
    await fetchOnce({ mdef: 'https://unit/mdef' } as EarFiles, () => undefined);
    const given = await (await fetch('https://unit/mdef')).arrayBuffer();
    expect(new Uint8Array(given)).toEqual(model);
  });

  it('what the server refuses is refused to the engine too', async () => {
    vi.stubGlobal('fetch', server);
    await fetchOnce({ ...files, means: 'https://unit/gone' }, () => undefined);
    expect((await fetch('https://unit/gone')).status).toBe(404);
  });

  it('tells the share that has come, which only grows, twenty times at most', async () => {
    const pieces = 100;
    const piece = new Uint8Array(earBytes / 2 / pieces);
    const body = () =>
      new ReadableStream({
        start(stream) {
          for (let n = 0; n < pieces; n += 1) stream.enqueue(piece);
          stream.close();
        },
      });
    vi.stubGlobal('fetch', () => Promise.resolve(new Response(body())));
    const shares: number[] = [];
    await fetchOnce(files, (share) => shares.push(share));
    expect(shares.length).toBeGreaterThan(15);
    expect(shares.length).toBeLessThanOrEqual(20);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBeGreaterThan(0.95);
  });

  it('reckons by what the files really weigh', () => {
    const paths = Object.values<string>({ ...modelPaths });
    const model = paths.reduce((sum, path) => sum + statSync(path).size, 0);
    const bytes = model + denoiserProgram().length;
    expect(Math.abs(earBytes - bytes) / bytes).toBeLessThan(0.02);
  });
});
