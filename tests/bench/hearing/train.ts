/**
 * Makes `src/speech/bundled/fit.json` anew: npx tsx tests/bench/hearing/train.ts
 *
 * Hears the tuning half of the corpus (voices, sentences, talk and noise that the bench does not
 * use), then fits one logistic for readings and one for commands by gradient descent, and sets the
 * points where they cut. Needs the recordings of real people; takes a quarter of an hour.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { isReading } from '../../../src/speech/bundled/fit.ts';
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

function corpus(): Clip[] {
  return [
    ...volumeClips(voices, 28, 'clean', seed),
    ...volumeClips(voices, 32, 'pink 20 dB', seed + 1),
    ...volumeClips(voices, 32, 'pink 10 dB', seed + 2),
    ...commandClips(voices, 'clean', seed + 3),
    ...commandClips(voices, 'pink 20 dB', seed + 4),
    ...digitClips(24, seed + 5),
    // Three states a recording: every other recording is left for the bench.
    ...talkClips().filter((_, index) => Math.floor(index / 3) % 2 === 0),
    ...bedsideClips(voices, sentences, 'clean', seed + 6),
    ...bedsideClips(voices, sentences, 'pink 20 dB', seed + 7),
  ];
}

async function hearAll(): Promise<Utterance[]> {
  const listener = await Listener.open();
  const all: Utterance[] = [];
  for (const { group, speaker, samples, expectation, want } of corpus()) {
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

const cache = process.argv[2];
if (!hasPeople()) throw new Error('the recordings of real people are not on this machine');
const utterances =
  cache === undefined ? await hearAll() : (JSON.parse(readFileSync(cache, 'utf8')) as Utterance[]);

const examplesOf = (wanted: boolean): Example[] =>
  utterances
    .filter(({ text }) => isReading(text) === wanted)
    .map(({ measures, right }) => ({ measures, right }));

const file = resolve(import.meta.dirname, '../../../src/speech/bundled/fit.json');
const reading = fitLogistic(examplesOf(true), { taken: 0.02, doubted: 0.06 });
const command = fitLogistic(examplesOf(false), { taken: 0, doubted: 0 });
const made = `${new Date().toISOString().slice(0, 10)}, by tests/bench/hearing/train.ts on ${utterances.length} utterances`;
writeFileSync(file, `${JSON.stringify({ made, reading, command }, null, 2)}\n`);
console.log(JSON.stringify({ made, reading, command }, null, 2));
