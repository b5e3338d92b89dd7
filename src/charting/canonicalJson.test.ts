import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson, sameData } from './canonicalJson.ts';

describe('When data is written canonically', () => {
  test('keys are in one order at every depth, and undefined is left out', () => {
    expect(canonicalJson({ b: [{ d: 1, c: undefined, a: null }], a: 'é"\n' })).toBe(
      '{"a":"é\\"\\n","b":[{"a":null,"d":1}]}',
    );
  });

  test('it is JSON of the same data', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  test('the order of keys makes no difference, and a change does', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
        const turned = Object.fromEntries(Object.entries(value).reverse());
        expect(sameData(value, turned)).toBe(true);
        expect(sameData(value, { ...value, 'another key': 1 })).toBe(false);
      }),
    );
  });

  test.each([NaN, Infinity, -Infinity])('%d is our own bug', (value) => {
    expect(() => canonicalJson({ value })).toThrow('json_not_finite');
  });
});
