import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { houseFaults } from './houseRules.ts';

/** `npm run house`: what no other tool checks, over every file that git keeps or would keep. */
const root = resolve(import.meta.dirname, '../..');

const files = execFileSync(
  'git',
  ['ls-files', '-z', '--cached', '--others', '--exclude-standard'],
  {
    cwd: root,
    encoding: 'utf8',
  },
)
  .split('\0')
  .filter((path) => path !== '' && existsSync(resolve(root, path)))
  .map((path) => ({ path, text: readFileSync(resolve(root, path), 'utf8') }));

const faults = houseFaults(files);
for (const fault of faults) console.log(fault);
console.log(`house: ${files.length} files, ${faults.length} faults`);
process.exitCode = faults.length === 0 && files.length > 0 ? 0 : 1;
