import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { startVitest } from 'vitest/node';
import { choosingMachine } from '../../src/conversation/choosingMachine.ts';
import { earMachine } from '../../src/conversation/earMachine.ts';
import { drillMachine } from '../../src/conversation/practice/drillMachine.ts';
import { guidedMachine } from '../../src/conversation/practice/guidedMachine.ts';
import { practiceMachine } from '../../src/conversation/practice/practiceMachine.ts';
import { recallMachine } from '../../src/conversation/practice/recallMachine.ts';
import { readingMachine } from '../../src/conversation/readingMachine.ts';
import { signingMachine } from '../../src/conversation/signingMachine.ts';
import { trayMachine } from '../../src/conversation/trayMachine.ts';
import { walkMachine } from '../../src/conversation/walkMachine.ts';
import { allKeys } from '../support/transitionKeys.ts';

/**
 * `npm run reached`: every arrow of every machine (event, delay, end or error of an actor) is taken
 * by a test of its behaviour, or it is named here. The walk over all states does not count: it
 * takes arrows to see what survives, and says nothing of what they are for.
 */
const machines = [
  walkMachine, readingMachine, earMachine, trayMachine, signingMachine, choosingMachine,
  practiceMachine, guidedMachine, recallMachine, drillMachine,
]; // prettier-ignore

const folder = mkdtempSync(join(tmpdir(), 'gloveside-reached-'));
const file = join(folder, 'taken.txt');
writeFileSync(file, '');
process.env.GLOVESIDE_REACHED = file;
const config = resolve(import.meta.dirname, '../../.config/reached.vitest.config.ts');
const vitest = await startVitest('test', [], { run: true, watch: false, config, reporters: [] });
const failed = vitest.state.getCountOfFailedTests();
await vitest.close();
const taken = new Set(readFileSync(file, 'utf8').split('\n'));
rmSync(folder, { recursive: true });

const missed = machines.flatMap((machine) => allKeys(machine)).filter((key) => !taken.has(key));
const count = machines.reduce((sum, machine) => sum + allKeys(machine).length, 0);
for (const key of missed) console.log(`not reached: ${key}`);
console.log(
  `reached: ${count - missed.length} of ${count} transitions in ${machines.length} machines`,
);
process.exit(missed.length === 0 && failed === 0 && count > 0 ? 0 : 1);
