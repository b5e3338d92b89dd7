import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { grammarFiles } from '../support/grammarFiles.ts';
import { corpus, type Utterance } from './numbers/corpus.ts';
import { hostile } from './numbers/hostile.ts';
import { numberReaders, type NumberReader } from './numbers/readers.ts';

/**
 * `npm run -s bench:numbers`: this project's reading of spoken volumes beside general number
 * parsers, on a generated corpus. Speeds are ratios within this run; a busy machine slows all alike.
 */
const count = 50_000;
/** The others are up to a thousand times slower; a part of the corpus is enough to time them. */
const timed = 2_000;
const utterances = corpus(count, 2026);

interface Score {
  readonly name: string;
  readonly right: number;
  readonly wrong: number;
  readonly falseTalk: number;
  readonly falseTempting: number;
  readonly falseTwoWays: number;
  readonly perSecond: number;
}

const ofKind = (kind: Utterance['kind']) => utterances.filter((each) => each.kind === kind);
const volumes = ofKind('volume');

function score({ name, read }: NumberReader, most: number): Score {
  const some = (list: readonly Utterance[]) => list.slice(0, most);
  const share = (
    list: readonly Utterance[],
    is: (got: number | null, want: number | null) => boolean,
  ) => (100 * some(list).filter(({ said, mL }) => is(read(said), mL)).length) / some(list).length;
  const takes = (kind: Utterance['kind']) => share(ofKind(kind), (got) => got !== null);
  const right = share(volumes, (got, want) => got === want);
  const wrong = share(volumes, (got, want) => got !== null && got !== want);
  const run = some(utterances);
  const speeds = [run, run, run].map((each) => {
    const before = process.cpuUsage();
    for (const { said } of each) read(said);
    const { user, system } = process.cpuUsage(before);
    return each.length / ((user + system) / 1e6);
  });
  return {
    name,
    right,
    wrong,
    falseTalk: takes('talk'),
    falseTempting: takes('tempting'),
    falseTwoWays: takes('two ways'),
    perSecond: Math.max(...speeds),
  };
}

const [own, ...others] = numberReaders();
const scores = [score(own!, count), ...others.map((reader) => score(reader, timed))];
const slowest = Math.min(...scores.map(({ perSecond }) => perSecond));
const percent = (value: number) => value.toFixed(value < 10 ? 2 : 1).padStart(6);

console.log(`${count} utterances, ${volumes.length} of them volumes; a fluid ounce is 30 mL`);
console.log(
  '| reader | right % | wrong % | talk taken % | tempting taken % | two ways taken % | utterances/s | ratio |',
);
console.log('| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |');
for (const each of scores)
  console.log(
    `| ${each.name} | ${percent(each.right)} | ${percent(each.wrong)} | ${percent(each.falseTalk)} | ${percent(each.falseTempting)} | ${percent(each.falseTwoWays)} | ${Math.round(each.perSecond)} | ${(each.perSecond / slowest).toFixed(0)} |`,
  );

// A corpus says many things twice; only what this interpreter was never told counts as new. Each
// round has utterances of its own, and the best of three leaves out some of what other processes took.
const heardAs = (said: string) => said.toLowerCase().replace(/\.$/, '');
const fresh = createInterpreter(grammarFiles());
const told = new Set<string>();
for (const { said } of corpus(20_000, 1)) {
  fresh.volume(said, {});
  told.add(heardAs(said));
}
const rounds = [4052, 4054, 4056].map((seed) => {
  const unseen = corpus(2 * count, seed).filter(({ said }) => {
    const isNew = !told.has(heardAs(said));
    told.add(heardAs(said));
    return isNew;
  });
  const from = process.cpuUsage();
  for (const { said } of unseen) fresh.volume(said, {});
  const { user, system } = process.cpuUsage(from);
  return { count: unseen.length, perSecond: unseen.length / ((user + system) / 1e6) };
});
console.log(
  `\nNever met before, in a warm interpreter: ${rounds.map((round) => `${round.count} at ${Math.round(round.perSecond)} a second`).join(', ')}`,
);

// Each sentence is new to each of three interpreters; the least of three leaves out what other
// processes took.
const interpreters = [1, 2, 3].map(() => createInterpreter(grammarFiles()));
for (const { volume } of interpreters) for (const said of hostile(500, 3)) volume(said, {});
const times = hostile(3000, 7).map((said) => {
  const spent = interpreters.map(({ volume }) => {
    const from = performance.now();
    volume(said, {});
    return performance.now() - from;
  });
  return { said, ms: Math.min(...spent) };
});
times.sort((a, b) => a.ms - b.ms);
const worst = times[times.length - 1]!;
console.log(
  `\nHostile sentences of 40 words, new each time: median ${times[times.length >> 1]!.ms.toFixed(2)} ms, worst ${worst.ms.toFixed(2)} ms:\n  ${worst.said}`,
);
