import { readdirSync, readFileSync } from 'node:fs';
import { basename, join, relative } from 'node:path';
import { loadProcedure, type Loaded } from '../../src/procedures/load.ts';
import { procedureFaults } from '../../src/words/en-US/procedureFaults.ts';

/**
 * `npm run validate [file …]`: every fault of every procedure file, then 1 on any.
 *
 * Without names, all procedures of the project are read.
 */
const root = join(import.meta.dirname, '..', '..');
const folder = join(root, 'src', 'procedures', 'en-US');
const named = process.argv.slice(2);
const files =
  named.length > 0
    ? named
    : readdirSync(folder)
        .filter((name) => name.endsWith('.json'))
        .map((name) => join(folder, name));

const titles = new Map<string, string>();
const calls = new Map<string, string>();
const known = new Set<string>();
const handed: [string, string][] = [];
let faults = 0;

for (const file of files) {
  const shown = relative(process.cwd(), file);
  let loaded: Loaded;
  try {
    loaded = loadProcedure(readFileSync(file, 'utf8'));
  } catch (error) {
    tell(`${shown}: ${error instanceof Error ? error.message : String(error)}`);
    continue;
  }
  if (!loaded.ok) {
    for (const { line, path, code, about } of loaded.faults)
      tell(`${shown}:${line ?? 1} ${path} ${code}: ${procedureFaults[code](about)}`);
    continue;
  }
  const { id, spoken, steps } = loaded.procedure;
  if (`${id}.json` !== basename(file)) tell(`${shown}: the file should be called ${id}.json`);
  if (titles.has(id)) tell(`${shown}: ${titles.get(id)} has the same id, ${id}`);
  titles.set(id, shown);
  known.add(id);
  for (const name of spoken) {
    if (calls.has(name)) tell(`${shown}: "${name}" also calls ${calls.get(name)}`);
    calls.set(name, id);
  }
  for (const { otherwise } of steps) if (otherwise !== undefined) handed.push([shown, otherwise]);
}

if (named.length === 0)
  for (const [shown, id] of handed)
    if (!known.has(id)) tell(`${shown}: hands over to ${id}, which is not there`);

console.log(`procedures: ${files.length} read, ${faults} faults`);
if (faults > 0 || files.length === 0) process.exitCode = 1;

function tell(line: string): void {
  faults += 1;
  console.error(line);
}
