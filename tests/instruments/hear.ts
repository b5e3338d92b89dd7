/**
 * Runs the bundled ear over recordings: npm run -s hear -- --list FILE.tsv
 *
 * A line of the list: WAV path, what should be heard (mL, a command or its words, or `-`), and a
 * container such as `1000/25`, or `step` or `readback`; with tabs between. A path is taken from the
 * list's own folder. Prints one JSON object a recording, then a summary. Exits 1 when a recording or
 * a line could not be read.
 */
import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { readWave, WaveError } from '../../src/speech/wave.ts';
import { Listener, type Heard } from '../bench/hearing/Listener.ts';
import { outcomeOf, tableOf, type Scored } from '../bench/hearing/score.ts';
import { parseList, type ListLine } from './hearList.ts';

const usage = 'usage: npm run -s hear -- --list FILE.tsv';

async function main(args: readonly string[]): Promise<number> {
  const file = args[args.indexOf('--list') + 1];
  if (!args.includes('--list') || file === undefined) {
    console.error(usage);
    return 2;
  }
  const listener = await Listener.open();
  const scored: Scored[] = [];
  let faults = 0;
  const fault = (message: string): void => {
    faults += 1;
    console.error(message);
  };
  for (const line of parseList(readFileSync(file, 'utf8'), listener.interpreter)) {
    if ('fault' in line) {
      fault(`${file}: ${line.fault}`);
      continue;
    }
    try {
      const path = resolve(dirname(file), line.path);
      const { samples, rate } = readWave(readFileSync(path), line.path);
      const heard = await listener.hear(samples, rate, line.expectation);
      console.log(JSON.stringify(rowOf(line, heard)));
      scored.push({
        group: line.group,
        wanted: line.want !== null,
        outcome: outcomeOf(heard, line.want),
        ms: heard.ms,
      });
    } catch (error) {
      if (!(error instanceof WaveError) && !isMissing(error)) throw error;
      fault(error.message);
    }
  }
  console.log(tableOf(scored));
  if (faults > 0) console.error(`${faults} not heard for a fault of their own.`);
  return faults === 0 ? 0 : 1;
}

const isMissing = (error: unknown): error is Error =>
  error instanceof Error && 'code' in error && error.code === 'ENOENT';

const rowOf = (line: ListLine, heard: Heard) => ({
  file: line.path,
  outcome: heard.outcome,
  mL: heard.mL,
  candidates: heard.candidates,
  words: heard.words,
  ms: Math.round(heard.ms * 10) / 10,
  command: heard.command,
  soundAlike: heard.soundAlike,
  // Nobody spoke: not a refusal of words.
  ...(heard.utterances === 0 ? { error: 'no-speech' } : {}),
});

process.exitCode = await main(process.argv.slice(2));
