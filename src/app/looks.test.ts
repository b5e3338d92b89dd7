import { expect, test } from 'vitest';
import { Looks, sameLook } from './looks.ts';

test('turning to and fro is one look, by person and entry, until its time is over', () => {
  const looks = new Looks();
  expect(looks.isNew('SR', 'one', 0)).toBe(true);
  expect(looks.isNew('SR', 'one', sameLook - 1)).toBe(false);
  expect(looks.isNew('PW', 'one', 1)).toBe(true);
  expect(looks.isNew('SR', 'two', 1)).toBe(true);
  expect(looks.isNew('SR', 'one', sameLook)).toBe(true);
});

test('a look that was not recorded is new again', () => {
  const looks = new Looks();
  looks.isNew('SR', 'one', 0);
  looks.forget('SR', 'one');
  expect(looks.isNew('SR', 'one', 1)).toBe(true);
});
