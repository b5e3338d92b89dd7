import { availableParallelism } from 'node:os';
import { startVitest } from 'vitest/node';
import { TotalsReporter } from './support/totalsReporter.ts';

/** Two runs, as a browser that listens in real time must not share two cores with the unit tests. */
const quick = [['units', 'components'], ['journeys']];
const runs = process.argv.includes('--long') ? [['long']] : quick;

const totals = new TotalsReporter();
let broken = 0;

for (const project of runs) {
  console.log(`\n${project.join(' and ')}`);
  const before = totals.totals;
  try {
    const vitest = await startVitest('test', [], {
      run: true,
      watch: false,
      // Usually one is left free, which is half of a machine with two.
      maxWorkers: availableParallelism(),
      project,
      reporters: ['default', totals],
    });
    await vitest.close();
  } catch (error) {
    console.error(error);
    broken += 1;
    continue;
  }
  const after = totals.totals;
  if (after.passed === before.passed && after.failed === before.failed) {
    console.error(`${project.join(' and ')}: no test ran`);
    broken += 1;
  }
}

const { passed, failed } = totals.totals;
console.log(`\ntests: ${passed} passed, ${failed + broken} failed`);
// Handles that a broken run left open would keep this process alive for ever.
process.exit(failed + broken === 0 && passed > 0 ? 0 : 1);
