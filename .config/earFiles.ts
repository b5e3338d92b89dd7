import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { sortByColumn, type Table } from '../src/speech/bundled/columns.ts';

const from = createRequire(import.meta.url);
const model = join(dirname(from.resolve('soundswallower')), 'model/en-us');
/** Changes with whatever is done to the files below, so that none of an older kind is served. */
const folder = resolve(import.meta.dirname, '../node_modules/.gloveside/ear-1');

/** The denoiser's program. Its package carries it as text within a script that could not stay outside. */
export function denoiserProgram(): Uint8Array<ArrayBuffer> {
  const script = join(dirname(from.resolve('@timephy/rnnoise-wasm')), 'generated/rnnoise-sync.js');
  const text = /base64,([\w+/=]{1000,})/.exec(readFileSync(script, 'latin1'))?.[1];
  if (text === undefined) throw new Error(`no_program: there is no denoiser in ${script}`);
  return Uint8Array.from(Buffer.from(text, 'base64'));
}

/** Numbers of four bytes from the end of the head on, as the engine's files of floats have them. */
function floats(file: Buffer): Table[] {
  const mark = 'endhdr\n';
  const head = file.indexOf(mark) + mark.length;
  return [raw(head), numbers(Math.floor((file.length - head) / 4), [4])];
}

/**
 * The tables of the engine's list of triphones, as its own head describes them: a tree over them, one
 * row for each, and the rows of states that they share.
 */
function triphones(file: Buffer): Table[] {
  const text = 12;
  const counts = text + file.readInt32LE(8);
  const count = (index: number): number => file.readInt32LE(counts + 4 * index);
  const [sounds, phones, states, branches] = [count(0), count(1), count(2), count(8)];
  let names = counts + 40;
  for (let sound = 0; sound < sounds; sound += 1) names = file.indexOf(0, names) + 1;
  const head = names + ((counts - names) & 3);
  const tree: Table = {
    rows: branches,
    columns: [
      { bytes: 2, fromAbove: false },
      { bytes: 2, fromAbove: false },
      { bytes: 4, fromAbove: true },
    ],
  };
  const sequences = head + branches * 8 + phones * 12;
  const each = Array.from({ length: states }, () => 2 as const);
  const rows = Math.floor(file.readInt32LE(sequences) / states);
  return [raw(head), tree, numbers(phones, [4, 4, 4]), raw(4), numbers(rows, each)];
}

const raw = (rows: number): Table => numbers(rows, [1]);
const numbers = (rows: number, widths: readonly (1 | 2 | 4)[]): Table => ({
  rows,
  columns: widths.map((bytes) => ({ bytes, fromAbove: false })),
});

/** What is made of the packages' files before they are served. */
const made: Readonly<Record<string, () => Uint8Array>> = {
  'mdef.bin': () => sorted('mdef', triphones),
  'means.bin': () => sorted('means', floats),
  'variances.bin': () => sorted('variances', floats),
  'rnnoise.wasm': denoiserProgram,
};

function sorted(name: string, tables: (file: Buffer) => Table[]): Uint8Array {
  const file = readFileSync(join(model, name));
  return sortByColumn(file, tables(file));
}

/** Make the files of the ear that are not served as their packages have them, where they are not there. */
export function makeEarFiles(): void {
  mkdirSync(folder, { recursive: true });
  for (const [name, make] of Object.entries(made)) {
    const file = join(folder, name);
    if (existsSync(file)) continue;
    // Whole or not at all: several builds may begin at once.
    const half = `${file}.${process.pid}`;
    writeFileSync(half, make());
    renameSync(half, file);
  }
}
