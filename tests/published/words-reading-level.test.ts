import { readdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { grade, sentencesIn, syllables, textsOf } from '../support/readingLevel.ts';

const words = join(import.meta.dirname, '../../src/words');
/** Sixth grade, as the common advice for health information is (AHRQ, NIH; from memory). */
const bar = 6;
/** Below this many sentences a file is a list of labels or shapes of numbers. */
const enough = 5;

const files = [
  ...readdirSync(join(words, 'en-US'))
    .filter((name) => !name.includes('.test.'))
    .map((name) => join(words, 'en-US', name)),
  join(words, 'errors.ts'),
].map((path) => ({ name: basename(path), sentences: textsOf(path).flatMap(sentencesIn) }));

const procedures = builtIn.map(({ id, steps, caution }) => ({
  name: id,
  sentences: [caution ?? '', ...steps.flatMap(({ call, why }) => [call, why])].flatMap(sentencesIn),
}));

const measured = [...files, ...procedures].filter(({ sentences }) => sentences.length >= enough);

const median = (sentences: readonly string[]): number => {
  const sorted = sentences.map((each) => grade([each])).sort((one, other) => one - other);
  return sorted[Math.floor(sorted.length / 2)] ?? NaN;
};

afterAll(() => {
  const lines = measured.map(({ name, sentences }) =>
    [
      name.padEnd(22),
      String(sentences.length).padStart(4),
      grade(sentences).toFixed(1).padStart(6),
      median(sentences).toFixed(1).padStart(6),
    ].join(' '),
  );
  const worst = measured
    .flatMap(({ name, sentences }) => sentences.map((text) => ({ name, text })))
    .map((each) => ({ ...each, grade: grade([each.text]) }))
    .sort((one, other) => other.grade - one.grade)
    .slice(0, 8)
    .map((each) => `${each.grade.toFixed(1).padStart(6)} ${each.name}: ${each.text}`);
  const head = 'words of               sentences, mean and median grade';
  console.log([head, ...lines, 'hardest sentences', ...worst].join('\n'));
});

describe('When the words of the app are graded', () => {
  it('syllables are counted as they are pronounced', () => {
    const known = { catheter: 3, resident: 3, clean: 1, measured: 2, milliliters: 4, gloves: 1 };
    expect(Object.keys(known).map(syllables)).toEqual(Object.values(known));
  });

  it('a grade comes out as worked by hand', () => {
    // 6 words of one syllable: 0.39 x 6 + 11.8 - 15.59 = -1.45.
    expect(grade(['The cat sat on the mat.'])).toBeCloseTo(-1.45, 2);
    // 4 words, 3 + 3 + 1 + 3 syllables: 0.39 x 4 + 11.8 x 10 / 4 - 15.59 = 15.47.
    expect(grade(['Catheter resident clean catheter.'])).toBeCloseTo(15.47, 2);
  });

  it('every file of them was found', () => {
    expect(files.length).toBeGreaterThan(15);
    expect(measured.length).toBeGreaterThan(20);
  });

  it.each(measured)('$name is read at the sixth grade or below', ({ sentences }) => {
    expect(grade(sentences)).toBeLessThanOrEqual(bar);
    expect(median(sentences)).toBeLessThanOrEqual(bar);
  });
});
