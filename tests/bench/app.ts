import { cpus, loadavg } from 'node:os';
import { resolve } from 'node:path';
import { buildApp } from '../support/server.ts';
import { answerTimes } from './app/answers.ts';
import { serveCounted } from './app/countedServer.ts';
import { openings } from './app/openings.ts';
import { firstPaintBytes } from './app/firstPaintBytes.ts';
import { manyWalks } from './app/manyWalks.ts';
import { printTable, type Row } from './app/table.ts';

/**
 * How quick the built app is on a slow tablet: the page's thread is slowed down four times.
 *
 * `DIST` names a build that is ready; `WALKS` another number of walks than 100.
 */
const SLOWER = 4;
const walks = Number(process.env.WALKS ?? 100);

const [load = 0] = loadavg();
console.log(
  `Chromium, page thread ${SLOWER}x slower, workers at the speed of this machine ` +
    `(${cpus().length} cores, load ${load.toFixed(1)} at the start).\n`,
);

const given = process.env.DIST;
const build =
  given === undefined || given === ''
    ? await buildApp()
    : { folder: resolve(given), remove: () => Promise.resolve() };
const server = await serveCounted(build.folder);
const missing: string[] = [];

const parts: readonly (readonly [string, () => Promise<Row[]>])[] = [
  ['size', async () => firstPaintBytes(build.folder)],
  ['opening', () => openings(server, build.folder, SLOWER)],
  ['answers', () => answerTimes(server, SLOWER)],
  ['memory', () => manyWalks(server, walks)],
];

try {
  for (const [name, measure] of parts) {
    try {
      printTable(await measure());
    } catch (error) {
      missing.push(name);
      console.log(
        `not measured, ${name}: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  }
} finally {
  await server.close();
  await build.remove();
}

process.exit(missing.length === 0 ? 0 : 1);
