import { expect, test } from 'vitest';
import { figureOf } from './figureOf.ts';

test.each([
  ['three fifty', '350'],
  ['three five zero', '350'],
  ['three five oh', '350'],
  ['three hundred fifty', '350'],
  ['around three hundred and fifty milliliters', '350'],
  ['a hundred', '100'],
  ['one hundred twenty five mils', '125'],
  ['one twenty five', '125'],
  ['twelve fifty', '1250'],
  ['one thousand two hundred and fifty', '1250'],
  ['a thousand', '1000'],
  ['one thousand and five', '1005'],
  ['twenty five', '25'],
  ['zero', '0'],
  ['two oh five', '205'],
  ['half a cup', 'half cup'],
  ['', ''],
])('When "%s" is put in figures it is %s', (words, figures) => {
  expect(figureOf(words)).toBe(figures);
});
