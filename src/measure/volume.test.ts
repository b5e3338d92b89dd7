import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isMillilitres, millilitres, sumOf, VolumeError } from './volume.ts';

describe('When a number is made a volume', () => {
  it.each([0, 1, 350, 4000])('%d mL stands', (value) => {
    expect(millilitres(value)).toBe(value);
  });

  it.each([
    [0.5, 'volume_not_whole'],
    [Number.NaN, 'volume_not_whole'],
    [Infinity, 'volume_not_whole'],
    [2 ** 53, 'volume_not_whole'],
    [-1, 'volume_negative'],
  ])('%d is refused: %s', (value, code) => {
    expect(() => millilitres(value)).toThrow(VolumeError);
    expect(() => millilitres(value)).toThrow(expect.objectContaining({ code }));
    expect(isMillilitres(value)).toBe(false);
  });

  it('a sum is the sum of its parts in any order', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 5000 })), (parts) => {
        const sum = parts.reduce((total, part) => total + part, 0);
        expect(sumOf(parts.map(millilitres))).toBe(sum);
        expect(sumOf([...parts].reverse().map(millilitres))).toBe(sum);
      }),
    );
  });
});
