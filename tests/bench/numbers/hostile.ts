import { Random } from './random.ts';

const words =
  "one two fifty hundred and no to for or not about thousand point half a plus bed at oh liter cup it's wait three fifteen zero mls i got first another is room double sorry 350 3:50 1.5 ,".split(
    ' ',
  );

/** Sentences of 40 words made of few words, so that as many rules as can be meet in them. */
export function hostile(count: number, seed: number): string[] {
  const random = new Random(seed);
  return Array.from({ length: count }, () => {
    const few = Array.from({ length: 1 + random.below(4) }, () => random.pick(words));
    return Array.from({ length: 40 }, () => random.pick(few)).join(' ');
  });
}
