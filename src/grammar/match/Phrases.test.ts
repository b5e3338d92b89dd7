import { describe, expect, it } from 'vitest';
import { longestPhrase, Phrases } from './Phrases.ts';

const wordCount = 50;
const rule = 3;

/** Phrases that were asked twice for what all of the words mean to the rule. */
function metTwice(ids: readonly number[], numbers: readonly (number | undefined)[] = []) {
  const phrases = new Phrases(wordCount, 60);
  phrases.hear(ids, numbers);
  for (let times = 0; times < 2; times++) keep(phrases, ids.length);
  return phrases;
}

function keep(phrases: Phrases, end: number) {
  const hash = phrases.hashOf(rule, 0, end);
  if (hash !== 0) phrases.keep(hash, rule, 0, end, ['meaning']);
}

const meaning = (phrases: Phrases, of: number, start: number, end: number) =>
  phrases.valuesOf(phrases.hashOf(of, start, end), of, start, end);

describe('When a few words come again', () => {
  it('knows what they mean, wherever in an utterance they stand', () => {
    const phrases = metTwice([7, 8]);
    expect(meaning(phrases, rule, 0, 2)).toEqual(['meaning']);
    phrases.hear([9, 7, 8, 9], []);
    expect(meaning(phrases, rule, 1, 3)).toEqual(['meaning']);
  });

  it('does not take them for fewer words, other words, or what they mean to another rule', () => {
    const phrases = metTwice([7, 8]);
    expect(meaning(phrases, rule, 0, 1)).toBeUndefined();
    expect(meaning(phrases, rule + 1, 0, 2)).toBeUndefined();
    phrases.hear([8, 7], []);
    expect(meaning(phrases, rule, 0, 2)).toBeUndefined();
  });

  it('tells written numbers apart, and shapes of one number', () => {
    const phrases = metTwice([2], [350]);
    expect(meaning(phrases, rule, 0, 1)).toEqual(['meaning']);
    phrases.hear([2], [351]);
    expect(meaning(phrases, rule, 0, 1)).toBeUndefined();
    phrases.hear([4], [350]);
    expect(meaning(phrases, rule, 0, 1)).toBeUndefined();
  });

  it('never takes one phrase for another that has the same place', () => {
    const phrases = new Phrases(wordCount, 60);
    const all = Array.from({ length: 400 }, (_, at) => [at % 20, Math.floor(at / 20), at % 7]);
    for (let times = 0; times < 2; times++)
      for (const ids of all) {
        phrases.hear(ids, []);
        phrases.keep(phrases.hashOf(rule, 0, 3), rule, 0, 3, [ids.join()]);
      }
    for (const ids of all) {
      phrases.hear(ids, []);
      expect([ids.join(), undefined]).toContain(meaning(phrases, rule, 0, 3)?.[0]);
    }
  });
});

describe('When words are not worth keeping', () => {
  it('keeps nothing of what came once', () => {
    const phrases = new Phrases(wordCount, 60);
    phrases.hear([7], []);
    keep(phrases, 1);
    expect(meaning(phrases, rule, 0, 1)).toBeUndefined();
  });

  it('keeps no long row of words, and no part of a number', () => {
    const long = Array.from({ length: longestPhrase + 1 }, (_, at) => at);
    const phrases = new Phrases(wordCount, 60);
    phrases.hear(long, []);
    expect(phrases.hashOf(rule, 0, long.length)).toBe(0);
    expect(phrases.hashOf(rule, 0, longestPhrase)).not.toBe(0);
    phrases.hear([2], [1.5]);
    expect(phrases.hashOf(rule, 0, 1)).toBe(0);
  });

  it('knows nothing any more where other things are given', () => {
    const phrases = metTwice([7, 8]);
    phrases.clear();
    expect(meaning(phrases, rule, 0, 2)).toBeUndefined();
  });
});
