/**
 * How well the bundled ear hears: npm run -s bench:hearing [-- --each N] [--only TEXT] [--ours]
 *
 * Makes its own corpus from synthetic voices that the ear was not tuned on, adds the recordings of
 * real people where they are there, and prints a table beside the plain engine with one grammar for
 * all numbers on the same clips. Takes a quarter of an hour; with a text only the sets that have it in
 * their name are heard, with `--ours` the plain engine is left out.
 */
import { bedsideTalk } from './hearing/sentences.ts';
import {
  bedsideClips,
  commandClips,
  digitClips,
  hasPeople,
  talkClips,
  volumeClips,
  type Clip,
  type Noise,
} from './hearing/corpus.ts';
import { Listener } from './hearing/Listener.ts';
import { PlainEar } from './hearing/PlainEar.ts';
import { heldOut } from './hearing/split.ts';
import { outcomeOf, tableOf, type Scored } from './hearing/score.ts';

const optionOf = (name: string): string | undefined => {
  const at = process.argv.indexOf(name);
  return at === -1 ? undefined : process.argv[at + 1];
};
const each = Number(optionOf('--each') ?? 48);
const only = optionOf('--only') ?? '';
const noises: readonly Noise[] = ['clean', 'pink 20 dB', 'pink 10 dB', 'babble 15 dB'];
const { voices, seed } = heldOut;

const sentences = bedsideTalk.filter(heldOut.sentence);
// By the start of their groups' names, so that what is not asked for is not made.
const sets: readonly (readonly [string, () => Clip[]])[] = [
  ...noises.map(
    (noise, index) =>
      [`synthetic, ${noise}`, () => volumeClips(voices, each, noise, seed + index)] as const,
  ),
  ['commands, clean', () => commandClips(voices, 'clean', seed + 10)],
  ['commands, pink 20 dB', () => commandClips(voices, 'pink 20 dB', seed + 11)],
  ['bedside talk, clean', () => bedsideClips(voices, sentences, 'clean', seed + 20)],
  ['bedside talk, pink 20 dB', () => bedsideClips(voices, sentences, 'pink 20 dB', seed + 21)],
  ['people’s digits', () => digitClips(each, seed + 30)],
  // Three states a recording; the other half was tuned on.
  ['people’s talk', () => talkClips().filter((_, index) => Math.floor(index / 3) % 2 === 1)],
];
const clips = sets.filter(([name]) => name.includes(only)).flatMap(([, made]) => made());

console.log(`Hearing, ${new Date().toISOString().slice(0, 10)}. ${clips.length} clips.`);
if (!hasPeople()) {
  console.log(
    'The recordings of real people are not on this machine: those sets are missing below.',
  );
}

const ear = await Listener.open();
const plain = await PlainEar.open(ear.interpreter);
const ours: Scored[] = [];
const theirs: Scored[] = [];
for (const { group, samples, expectation, want } of clips) {
  const heard = await ear.hear(samples, 16_000, expectation);
  ours.push({ group, wanted: want !== null, outcome: outcomeOf(heard, want), ms: heard.ms });
  // The plain engine has no commands, and no step at which a number is out of place.
  if (expectation.state !== 'reading' || process.argv.includes('--ours')) continue;
  const taken = plain.hear(samples);
  theirs.push({ group, wanted: want !== null, outcome: outcomeOf(taken, want), ms: taken.ms });
}
console.log(`\nThe bundled ear\n\n${tableOf(ours)}`);
if (theirs.length > 0) {
  console.log(`\nThe plain engine, one grammar for all numbers\n\n${tableOf(theirs)}`);
}

const quantile = (values: readonly number[], part: number): string =>
  ([...values].sort((one, other) => one - other)[Math.floor(values.length * part)] ?? 0).toFixed(0);
const swapsOf = (isFirst: boolean): number[] =>
  ear.swaps.filter((swap) => swap.isFirst === isFirst).map(({ ms }) => ms);
for (const [name, swaps] of [
  ['for the first time', swapsOf(true)],
  ['again', swapsOf(false)],
] as const) {
  console.log(
    `\nGrammar taken ${name}: ${swaps.length} times, half within ${quantile(swaps, 0.5)} ms, 95 % within ${quantile(swaps, 0.95)} ms`,
  );
}
