/**
 * How well the bundled ear hears: npm run -s bench:hearing [-- --each N]
 *
 * Makes its own corpus from synthetic voices that the ear was not tuned on, adds the recordings of
 * real people where they are there, and prints a table beside the plain engine with one grammar for
 * all numbers on the same clips. Takes some minutes.
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

const given = process.argv.indexOf('--each');
const each = given === -1 ? 48 : Number(process.argv[given + 1]);
const noises: readonly Noise[] = ['clean', 'pink 20 dB', 'pink 10 dB', 'babble 15 dB'];
const { voices, seed } = heldOut;

const clips: Clip[] = [
  ...noises.flatMap((noise, index) => volumeClips(voices, each, noise, seed + index)),
  ...commandClips(voices, 'clean', seed + 10),
  ...commandClips(voices, 'pink 20 dB', seed + 11),
  ...bedsideClips(voices, bedsideTalk.filter(heldOut.sentence), 'clean', seed + 20),
  ...bedsideClips(voices, bedsideTalk.filter(heldOut.sentence), 'pink 20 dB', seed + 21),
  ...digitClips(each, seed + 30),
  // Three states a recording; the other half was tuned on.
  ...talkClips().filter((_, index) => Math.floor(index / 3) % 2 === 1),
];

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
  if (expectation.state !== 'reading') continue;
  const taken = plain.hear(samples);
  theirs.push({ group, wanted: want !== null, outcome: outcomeOf(taken, want), ms: taken.ms });
}
console.log(`\nThe bundled ear\n\n${tableOf(ours)}`);
console.log(`\nThe plain engine, one grammar for all numbers\n\n${tableOf(theirs)}`);
