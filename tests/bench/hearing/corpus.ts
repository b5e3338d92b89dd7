import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Expectation } from '../../../src/grammar/expectation.ts';
import type { Container } from '../../../src/measure/vessel.ts';
import { millilitres } from '../../../src/measure/volume.ts';
import { resample } from '../../../src/speech/resampler.ts';
import type { FliteVoice } from '../../../src/speech/voices/flite.ts';
import { readWave } from '../../../src/speech/wave.ts';
import { say } from '../../support/flite.ts';
import { babble, mixAt, pad, pinkNoise, seeded } from '../../support/noise.ts';
import { bedsideTalk, commandPhrases } from './sentences.ts';

/** One recording and what should become of it. Sound is mono, 16 kHz. */
export interface Clip {
  readonly group: string;
  readonly speaker: string;
  readonly said: string;
  readonly samples: Float32Array;
  readonly expectation: Expectation;
  /** A volume, a command, or null where nothing may be taken. */
  readonly want: { readonly mL: number } | { readonly command: string } | null;
}

export type Noise = 'clean' | 'pink 20 dB' | 'pink 10 dB' | 'babble 15 dB';

const container = (capacity: number, lineStep: number): Container => ({
  id: `${capacity}/${lineStep}`,
  label: `${capacity} mL`,
  kind: 'graduate',
  capacity: millilitres(capacity),
  lineStep: millilitres(lineStep),
});
export const containers = [container(1000, 25), container(500, 10), container(2000, 50)] as const;
const [graduate] = containers;

export const atReading = (vessel: Container): Expectation => ({
  state: 'reading',
  container: vessel,
  ounceIn: 30,
  fills: [],
});
export const atStep: Expectation = { state: 'step' };
export const atReadback: Expectation = {
  state: 'readback',
  container: graduate,
  ounceIn: 30,
  proposed: millilitres(350),
};

const small = (
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen ' +
  'fifteen sixteen seventeen eighteen nineteen'
).split(' ');
const tens = 'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');
const join2 = (...parts: (string | undefined)[]): string =>
  parts.filter((part) => part !== undefined && part !== '').join(' ');

/** A number as a word, in full. @param value - 0 to 9,999 */
function cardinal(value: number, and: string): string {
  if (value < 20) return small[value] ?? '';
  if (value < 100) {
    return join2(tens[Math.floor(value / 10) - 2], value % 10 === 0 ? '' : small[value % 10]);
  }
  const [size, name] = value < 1000 ? [100, 'hundred'] : [1000, 'thousand'];
  const rest = value % size;
  const link = rest > 0 && rest < 100 ? and : '';
  return join2(small[Math.floor(value / size)], name, link, rest > 0 ? cardinal(rest, and) : '');
}

/** Four ways to say a volume: in full, in full with unit, the hundred dropped, digit by digit. */
export function waysToSay(mL: number): readonly string[] {
  const dropped =
    mL > 100 && mL < 1000 && mL % 100 >= 10
      ? join2(small[Math.floor(mL / 100)], cardinal(mL % 100, ''))
      : cardinal(mL, 'and');
  const digits = [...String(mL)].map((digit) => small[Number(digit)]);
  return [cardinal(mL, ''), `${cardinal(mL, '')} milliliters`, dropped, join2(...digits)];
}

const pick = <Item>(items: readonly Item[], random: () => number): Item => {
  const item = items[Math.floor(random() * items.length)];
  if (item === undefined) throw new Error('nothing to pick from');
  return item;
};

/** Lay noise under speech that has half a second of quiet at both ends. */
export function under(speech: Float32Array, noise: Noise, seed: number): Float32Array {
  switch (noise) {
    case 'clean':
      return speech;
    case 'pink 20 dB':
      return mixAt(speech, pinkNoise(speech.length, seed), 20);
    case 'pink 10 dB':
      return mixAt(speech, pinkNoise(speech.length, seed), 10);
    case 'babble 15 dB':
      return mixAt(speech, babble(babblers(), speech.length, seed), 15);
  }
}

let babbling: Float32Array[] | undefined;
/** Four synthetic voices at once, none of them talking of volumes. */
const babblers = (): Float32Array[] =>
  (babbling ??= (['slt', 'rms', 'awb', 'kal16'] as const).map((voice, index) =>
    say(bedsideTalk.slice(index * 4, index * 4 + 4).join(', '), voice),
  ));

/** Volumes read from three containers. */
export function volumeClips(
  voices: readonly FliteVoice[],
  each: number,
  noise: Noise,
  seed: number,
): Clip[] {
  const random = seeded(seed);
  return voices.flatMap((voice) =>
    Array.from({ length: each }, (_, index): Clip => {
      const vessel = containers[index % containers.length] ?? graduate;
      const mL = vessel.lineStep * Math.ceil(random() * (vessel.capacity / vessel.lineStep));
      const said = waysToSay(mL)[index % 4] ?? '';
      const speech = pad(say(said, voice, 0.9 + 0.25 * random()), 0.5);
      return {
        group: `synthetic, ${noise}`,
        speaker: voice,
        said,
        samples: under(speech, noise, seed * 1000 + index),
        expectation: atReading(vessel),
        want: { mL },
      };
    }),
  );
}

/** Commands of a step and of a read-back. */
export function commandClips(voices: readonly FliteVoice[], noise: Noise, seed: number): Clip[] {
  return voices.flatMap((voice, at) =>
    commandPhrases.map(({ said, command, state }, index): Clip => ({
      group: `commands, ${noise}`,
      speaker: voice,
      said,
      samples: under(pad(say(said, voice), 0.5), noise, seed * 1000 + at * 100 + index),
      expectation: state === 'step' ? atStep : atReadback,
      want: { command },
    })),
  );
}

/** The states in which talk is put to the ear. */
export const talkStates = [
  ['reading', atReading(graduate)],
  ['step', atStep],
  ['read-back', atReadback],
] as const satisfies readonly (readonly [string, Expectation])[];

/** Bedside talk of synthetic voices. */
export function bedsideClips(
  voices: readonly FliteVoice[],
  sentences: readonly string[],
  noise: Noise,
  seed: number,
): Clip[] {
  return voices.flatMap((voice, at) =>
    sentences.flatMap((said, index) => {
      const speech = pad(say(said, voice), 0.5);
      const samples = under(speech, noise, seed * 1000 + at * 100 + index);
      return talkStates.map(([state, expectation]): Clip => ({
        group: `bedside talk at ${state}, ${noise}`,
        speaker: voice,
        said,
        samples,
        expectation,
        want: null,
      }));
    }),
  );
}

/** Recordings of real people lie beside the project on some machines, and on most they do not. */
const people = resolve(import.meta.dirname, '../../../../shared/speech');
export const hasPeople = (): boolean => existsSync(people);

const recording = (...path: string[]): Float32Array => {
  const file = join(people, ...path);
  const { samples, rate } = readWave(readFileSync(file), file);
  return resample(samples, rate, 16_000);
};

/** Volumes of a 1000 mL graduate, joined from a person's single digits with pauses of 120 ms. */
export function digitClips(each: number, seed: number): Clip[] {
  if (!hasPeople()) return [];
  const files = readdirSync(join(people, 'digits'));
  const speakers = [...new Set(files.map((file) => file.split('_')[1] ?? ''))].sort();
  const random = seeded(seed);
  return speakers.flatMap((speaker) =>
    Array.from({ length: each }, (): Clip => {
      const mL = 25 * Math.ceil(random() * 40);
      const takes = [...String(mL)].map((digit) =>
        recording(
          'digits',
          pick(
            files.filter((f) => f.startsWith(`${digit}_${speaker}_`)),
            random,
          ),
        ),
      );
      return {
        group: 'people’s digits, joined',
        speaker,
        said: [...String(mL)].join(' '),
        samples: joined(takes, 0.12, 0.3),
        expectation: atReading(graduate),
        want: { mL },
      };
    }),
  );
}

/** Real people talking of something else. */
export function talkClips(): Clip[] {
  if (!hasPeople()) return [];
  return readdirSync(join(people, 'talk'))
    .filter((file) => file.endsWith('.wav'))
    .sort()
    .flatMap((file) => {
      const samples = recording('talk', file);
      return talkStates.map(([state, expectation]): Clip => ({
        group: `people’s talk at ${state}`,
        speaker: file,
        said: '',
        samples,
        expectation,
        want: null,
      }));
    });
}

function joined(takes: readonly Float32Array[], pause: number, edge: number): Float32Array {
  const between = Math.round(pause * 16_000);
  const length = takes.reduce((sum, take) => sum + take.length, between * (takes.length - 1));
  const row = new Float32Array(length);
  let at = 0;
  for (const take of takes) {
    row.set(take, at);
    at += take.length + between;
  }
  return pad(row, edge);
}
