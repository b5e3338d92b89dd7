/**
 * Whether the ear's memory stays flat: npx tsx --expose-gc tests/bench/hearing/memory.ts [UTTERANCES]
 *
 * One recogniser hears 1,000 utterances in a row, with the grammar swapped after each as a walk does,
 * and prints the memory of the process after every tenth of them. Exits 1 when the last tenth holds
 * more than the second by a twentieth or more. Takes some minutes.
 */
import { say } from '../../support/flite.ts';
import { openNodeRecogniser } from '../../support/nodeRecogniser.ts';
import { grammarFiles } from '../../support/grammarFiles.ts';
import { pad } from '../../support/noise.ts';
import { createInterpreter } from '../../../src/grammar/interpreter.ts';
import { atReading, atStep, containers } from './corpus.ts';

const count = Number(process.argv[2] ?? 1_000);
const TENTHS = 10;
const interpreter = createInterpreter(grammarFiles());
let heard = 0;
const recogniser = await openNodeRecogniser(({ type }) => {
  if (type === 'heard') heard += 1;
});
const [graduate] = containers;
const clips = [
  { expectation: atStep, sound: pad(say('next step', 'slt'), 0.7) },
  { expectation: atReading(graduate), sound: pad(say('three fifty', 'slt'), 0.7) },
].map(({ expectation, sound }) => ({ jsgf: interpreter.earGrammar(expectation).jsgf, sound }));

const megabytes = (bytes: number): number => Math.round(bytes / 1e5) / 10;
const held: number[] = [];
for (let index = 0; index < count; index += 1) {
  const clip = clips[index % clips.length];
  if (clip === undefined) throw new Error('no clip');
  recogniser.expect({ jsgf: clip.jsgf });
  for (let at = 0; at < clip.sound.length; at += 320) {
    recogniser.push(clip.sound.subarray(at, at + 320), 16_000);
  }
  if ((index + 1) % Math.round(count / TENTHS) !== 0) continue;
  globalThis.gc?.();
  const { rss, heapUsed, arrayBuffers } = process.memoryUsage();
  held.push(rss);
  console.log(
    `${index + 1} utterances, ${heard} heard: process ${megabytes(rss)} MB, ` +
      `heap ${megabytes(heapUsed)} MB, buffers ${megabytes(arrayBuffers)} MB`,
  );
}
const [, second = 0] = held;
const growth = (held.at(-1) ?? 0) / second - 1;
console.log(`From the second tenth to the last: ${(100 * growth).toFixed(1)} %`);
process.exitCode = growth < 0.05 && heard >= count * 0.95 ? 0 : 1;
