import { expect, test } from 'vitest';
import { wordsFor, type Words } from './words.ts';

test('another locale says its own texts, and has to say them all', () => {
  const { walk, ...others } = wordsFor('en-US');
  const other: Words = { ...others, walk: { ...walk, noNumberYet: 'Todavía no hay número.' } };
  // @ts-expect-error -- what `npm run check` says where a part is missing
  const less: Words = others;
  expect(Object.keys(other).sort()).toEqual([...Object.keys(less), 'walk'].sort());
  expect(other.walk.noNumberYet).not.toBe(walk.noNumberYet);
});
