/**
 * The demo without a hand on it: a simulated aide talks with the assistant in a real browser.
 *
 *     npm run -s demo             writes demo/out/
 *     npm run -s demo -- DIR      writes there
 */
import { join, relative, resolve } from 'node:path';
import { demoFiles } from '../support/demoFiles.ts';
import { demoRun } from '../support/demoRun.ts';
import { demoReport } from '../support/demoReport.ts';

const folder = resolve(process.argv[2] ?? join(import.meta.dirname, '../../demo/out'));

console.log('Everything here is invented.\n');
const run = await demoRun(folder, ({ who, words }) => {
  console.log(`${who.padStart(10)}  ${words}`);
});
console.log(`\n${demoReport(run)}`);
console.log(`\nIn ${relative(process.cwd(), folder)}:`);
for (const file of Object.values(demoFiles)) console.log(`  ${file}`);
for (const error of run.errors) console.error(`the page said: ${error}`);
process.exit(run.errors.length === 0 ? 0 : 1);
