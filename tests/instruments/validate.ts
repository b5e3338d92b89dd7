import { readdirSync, readFileSync } from 'node:fs';
import { basename, join, relative } from 'node:path';
import { checkAmong } from '../../src/procedures/checkAmong.ts';
import type { Fault } from '../../src/procedures/fault.ts';
import { loadProcedure } from '../../src/procedures/load.ts';
import type { Procedure } from '../../src/procedures/schema.ts';
import { procedureFaults } from '../../src/words/en-US/procedureFaults.ts';
import { GrammarError } from '../../src/grammar/jsgf/grammarError.ts';
import { Reader } from '../../src/grammar/Reader.ts';
import { grammarFiles, grammarLocales } from '../support/grammarFiles.ts';

/**
 * `npm run validate [file …]`: every fault of every procedure file and the first of the grammars of
 * each locale, then 1 on any.
 *
 * Without names, all procedures and grammars of the project are read; with names, those procedure
 * files beside them.
 */
const root = join(import.meta.dirname, '..', '..');
const folder = join(root, 'src', 'procedures', 'en-US');
const named = process.argv.slice(2);
const own = readdirSync(folder)
  .filter((name) => name.endsWith('.json'))
  .map((name) => join(folder, name));
const files = named.length > 0 ? named : own;

const others: Procedure[] = [];
let faults = 0;

for (const file of files) {
  const shown = named.length > 0 ? file : relative(process.cwd(), file);
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    tell(`${shown}: ${error instanceof Error ? error.message : String(error)}`);
    continue;
  }
  const loaded = loadProcedure(text);
  if (!loaded.ok) tellAll(shown, loaded.faults);
  else {
    const { id } = loaded.procedure;
    if (`${id}.json` !== basename(file))
      tell(`${shown}: file and "id" differ: call the file ${id}.json, or correct the id`);
    if (others.some((other) => other.id === id)) tell(`${shown}: "${id}" was read already`);
    others.push(loaded.procedure);
  }
}
// The built-in list is not imported: one faulty file would keep it from loading.
const standing = own.flatMap((file) => {
  const loaded = loadProcedure(readFileSync(file, 'utf8'));
  return loaded.ok ? [loaded.procedure] : [];
});
const beside = named.length > 0 ? [...standing, ...others] : others;
for (const procedure of others) tellAll(procedure.id, checkAmong(procedure, beside));

console.log(`procedures: ${files.length} read, ${faults} faults`);
if (named.length === 0) readGrammars();
if (faults > 0 || files.length === 0) process.exitCode = 1;

function readGrammars(): void {
  const before = faults;
  for (const locale of grammarLocales()) {
    try {
      new Reader(grammarFiles(locale));
    } catch (error) {
      if (!(error instanceof GrammarError)) throw error;
      tell(`grammars/${locale}/${error.message}`);
    }
  }
  console.log(`grammars: ${grammarLocales().length} read, ${faults - before} faults`);
}

function tellAll(shown: string, found: readonly Fault[]): void {
  for (const { line, path, code, about } of found)
    tell(
      `${shown}${line === null ? '' : `:${line}`} ${path} ${code}: ${procedureFaults[code](about)}`,
    );
}

function tell(line: string): void {
  faults += 1;
  console.error(line);
}
