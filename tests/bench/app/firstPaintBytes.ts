import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Row } from './table.ts';

/** Script and style that the page itself links, and all that comes later, gzip. */
export async function firstPaintBytes(folder: string): Promise<Row[]> {
  const page = await readFile(join(folder, 'index.html'), 'utf8');
  const linked = [...page.matchAll(/(?:src|href)="\/?(assets\/[^"]+\.(?:js|css))"/g)].map(
    ([, path]) => path ?? '',
  );
  const assets = (await readdir(join(folder, 'assets'))).map((name) => `assets/${name}`);
  const voice = assets.filter((path) => /\/flite-.*\.wasm$/.test(path));
  const later = assets.filter((path) => !linked.includes(path) && !voice.includes(path));
  const sum = async (paths: readonly string[]): Promise<number> => {
    if (paths.length === 0) throw new Error('the build has no such files');
    const sizes = paths.map(async (path) => gzipSync(await readFile(join(folder, path))).length);
    return (await Promise.all(sizes)).reduce((one, other) => one + other, 0);
  };
  return [
    {
      what: 'script and style at first paint, gzip',
      value: (await sum(linked)) / 1e3,
      unit: 'kB',
      against: { value: 120, name: 'budget' },
    },
    {
      what: 'ear, model and all that comes later, gzip',
      value: (await sum(later)) / 1e6,
      unit: 'MB',
      against: { value: 5, name: 'budget' },
    },
    {
      what: 'bundled voice, after all the rest, gzip',
      value: (await sum(voice)) / 1e6,
      unit: 'MB',
    },
  ];
}
