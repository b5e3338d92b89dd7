/**
 * Makes `src/speech/bundled/fit.json` anew: npx tsx tests/bench/hearing/train.ts
 *
 * Hears the tuning half of the corpus (voices, sentences, talk and noise that the bench does not
 * use), then fits one logistic for readings and one for commands by gradient descent, and prints how
 * many pass at which log odds. Needs the recordings of real people; takes a quarter of an hour. With
 * the name of a file it keeps what it heard there, or takes it from there.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { isReading, logOdds, type FitModel } from '../../../src/speech/bundled/fit.ts';
import type { Measures } from '../../../src/speech/bundled/measures.ts';
import {
  bedsideClips,
  commandClips,
  digitClips,
  hasPeople,
  talkClips,
  volumeClips,
  type Clip,
} from './corpus.ts';
import { fitLogistic, type Example } from './fitLogistic.ts';
import { Listener } from './Listener.ts';
import { bedsideTalk } from './sentences.ts';
import { tuned } from './split.ts';

/** One utterance as it was heard: kept in a file, so that a fit can be tried again at once. */
export interface Utterance {
  readonly group: string;
  readonly speaker: string;
  readonly text: string;
  readonly right: boolean;
  readonly measures: Measures;
}

const { voices, seed, sentence } = tuned;
const sentences = bedsideTalk.filter(sentence);
// What is heard at a read-back is heard at a reading as well; the half of it teaches the same.
const taught = ({ expectation }: Clip): boolean => expectation.state !== 'readback';

/** The tuning half of the corpus. Each set is heard by itself, so that a run can be taken up again. */
const sets: Readonly<Record<string, () => Clip[]>> = {
  clean: () => volumeClips(voices, 28, 'clean', seed),
  pink20: () => volumeClips(voices, 36, 'pink 20 dB', seed + 1),
  pink10: () => volumeClips(voices, 36, 'pink 10 dB', seed + 2),
  commands: () => commandClips(voices, 'clean', seed + 3),
  commandsPink20: () => commandClips(voices, 'pink 20 dB', seed + 4),
  digits: () => digitClips(40, seed + 5),
  // Three states a recording: every other recording is left for the bench.
  talk: () => talkClips().filter((clip, index) => Math.floor(index / 3) % 2 === 0 && taught(clip)),
  bedside: () => bedsideClips(voices, sentences, 'clean', seed + 6).filter(taught),
  bedsidePink20: () => bedsideClips(voices, sentences, 'pink 20 dB', seed + 7).filter(taught),
};

async function hear(listener: Listener, clips: readonly Clip[]): Promise<Utterance[]> {
  const all: Utterance[] = [];
  for (const { group, speaker, samples, expectation, want } of clips) {
    const heard = await listener.hear(samples, 16_000, expectation);
    heard.judgements.forEach(({ text, measures }) => {
      if (measures === undefined) return;
      const understood = listener.interpreter.understand(text, expectation);
      const right =
        want !== null &&
        ('mL' in want
          ? understood.kind === 'volume' && understood.reading.mL === want.mL
          : understood.kind === 'command' && understood.command === want.command);
      all.push({ group, speaker, text, right, measures });
    });
  }
  return all;
}

/** @param folder - where each set is kept once it was heard, or undefined */
async function hearAll(folder: string | undefined): Promise<Utterance[]> {
  const listener = await Listener.open();
  const all: Utterance[] = [];
  for (const [name, clips] of Object.entries(sets)) {
    const kept = folder === undefined ? undefined : join(folder, `${name}.json`);
    const utterances =
      kept !== undefined && existsSync(kept)
        ? (JSON.parse(readFileSync(kept, 'utf8')) as Utterance[])
        : await hear(listener, clips());
    if (kept !== undefined) writeFileSync(kept, JSON.stringify(utterances));
    console.log(`${name}: ${utterances.length} utterances`);
    all.push(...utterances);
  }
  return all;
}

if (!hasPeople()) {
  console.error(
    'The recordings of real people are not on this machine; without them nothing is made.',
  );
  process.exit(1);
}
const utterances = await hearAll(process.argv[2]);

const examplesOf = (wanted: boolean): Example[] =>
  utterances
    .filter(({ text }) => isReading(text) === wanted)
    .map(({ measures, right }) => ({ measures, right }));

const file = resolve(import.meta.dirname, '../../../src/speech/bundled/fit.json');
/*
 * Read off the curves below. A reading is in doubt from where hardly any talk comes, and taken from
 * where few misheard ones do; a command is taken above all talk and below all commands. In a loud room
 * nearly all that were misheard had another number that fitted better; there, and digit by digit, more
 * is asked of such a one.
 * No reading that was right had a lead under -32; two thirds of the talk had. No command had one under
 * -30, but voices other than these have: "correct" by itself in a still room leads by -30 to -40.
 */
const reading = fitLogistic(examplesOf(true), {
  take: -0.6,
  takeLoud: 1.2,
  takeDigits: 0.6,
  doubt: -2,
  floor: -33,
});
const command = fitLogistic(examplesOf(false), {
  take: 1,
  takeLoud: 1,
  takeDigits: 1,
  doubt: 1,
  floor: -45,
});
const date = new Date().toISOString().slice(0, 10);
const made = `${date}, by tests/bench/hearing/train.ts on ${utterances.length} utterances`;
writeFileSync(file, `${JSON.stringify({ made, reading, command }, null, 2)}\n`);

/** How many of each kind reach which log odds. */
function printCurve(name: string, model: FitModel, wanted: boolean): void {
  const all = utterances.filter(({ text }) => isReading(text) === wanted);
  const kinds = {
    right: all.filter(({ right }) => right),
    misheard: all.filter(({ right, group }) => !right && !group.includes('talk')),
    talk: all.filter(({ group }) => group.includes('talk')),
  };
  console.log(`\n${name}: utterances that reach these log odds`);
  for (const odds of [-2, -1.3, -0.6, 0, 0.3, 0.6, 0.9, 1.3, 2]) {
    const cells = Object.entries(kinds).map(([kind, members]) => {
      const passing = members.filter(({ measures }) => logOdds(measures, model) >= odds).length;
      return `${kind} ${passing} of ${members.length}`;
    });
    console.log(`${odds}: ${cells.join(', ')}`);
  }
}
printCurve('Readings', reading, true);
printCurve('Commands', command, false);
