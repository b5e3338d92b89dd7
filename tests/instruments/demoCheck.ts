/**
 * Runs the demo into a folder of its own and looks at everything that it left.
 *
 *     npm run -s demo:check
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { demoFaults } from '../support/demoFaults.ts';
import { demoRun } from '../support/demoRun.ts';

const folder = await mkdtemp(join(tmpdir(), 'gloveside-demo-'));
try {
  const run = await demoRun(folder);
  const faults = await demoFaults(run, folder);
  for (const fault of faults) console.error(fault);
  console.log(
    `${run.lines.length} lines said, ${run.entries.length} entries, ${run.filed.length} in the files, ` +
      `${faults.length} faults`,
  );
  process.exitCode = faults.length === 0 ? 0 : 1;
} finally {
  await rm(folder, { recursive: true, force: true });
}
