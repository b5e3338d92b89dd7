import { describe, expect, it } from 'vitest';
import { definitionsMet, type Definition } from '../../src/measure/definitions.ts';
import { hour, isUnderPerHour, perHour } from '../../src/measure/rates.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { personWeight } from '../../src/measure/weight.ts';

const met = (kg: number | null, hours: number, mL: number): Definition[] =>
  definitionsMet({
    mL: millilitres(mL),
    ms: hours * hour,
    weight: kg === null ? null : personWeight(kg),
  });

/** The urine part of KDIGO's table as a number, for comparing with worked cases in this test only. */
function stageOf(definitions: readonly Definition[]): number {
  if (definitions.includes('thirdPerKgDay') || definitions.includes('noneTwelveHours')) return 3;
  if (definitions.includes('halfPerKgTwelveHours')) return 2;
  return definitions.includes('halfPerKgSixHours') ? 1 : 0;
}

/**
 * Cases worked by hand from the limits of KDIGO's AKI guideline 2012, Table 2 (Kidney Int Suppl
 * 2:19), mean over the span, strict "less than"; read. Below 30 mL/h: nursing textbook, ch. 29; read.
 */
const worked: [string, number, number, number, number, number, boolean][] = [
  // case, kg, hours, mL, mL/h, stage by urine, below 30 mL/h
  ['a', 70, 6, 200, 33.3, 1, false],
  ['b', 70, 6, 209, 34.8, 1, false],
  ['c', 70, 6, 210, 35, 0, false],
  ['d', 70, 12, 400, 33.3, 2, false],
  ['e', 70, 12, 420, 35, 0, false],
  ['f', 70, 24, 500, 20.8, 3, true],
  ['g', 70, 24, 503, 20.9, 3, true],
  ['h', 70, 24, 504, 21, 2, true],
  ['i', 80, 8, 300, 37.5, 1, false],
  ['j', 100, 24, 700, 29.1, 3, true],
  ['k', 40, 24, 390, 16.2, 2, true],
  ['l', 70, 5, 100, 20, 0, true],
  ['m', 60, 8, 240, 30, 0, false],
  ['n', 50, 8, 230, 28.7, 0, true],
  ['o', 90, 6, 250, 41.6, 1, false],
  ['p', 65, 12, 0, 0, 3, true],
  ['q', 65, 11, 0, 0, 1, true],
  ['r', 75, 24, 899, 37.4, 2, false],
  ['s', 75, 24, 900, 37.5, 0, false],
];

describe('When urine output over hours is set against KDIGO 2012, Table 2', () => {
  it.each(worked)('case %s: %d kg, %d h, %d mL', (_, kg, hours, mL, rate, stage, below) => {
    expect(perHour(millilitres(mL), hours * hour)).toBe(rate);
    expect(stageOf(met(kg, hours, mL))).toBe(stage);
    expect(isUnderPerHour(millilitres(mL), hours * hour, 30)).toBe(below);
  });

  it('without a weight only what needs none is met', () => {
    expect(met(null, 24, 100)).toEqual(['under400Day']);
  });
});

describe('When a shift is set against 30 mL/h (nursing textbook, ch. 29; read)', () => {
  it.each([
    [239, true],
    [240, false],
  ])('%d mL in 8 h', (mL, under) => {
    expect(isUnderPerHour(millilitres(mL), 8 * hour, 30)).toBe(under);
  });
});

describe('When a day is set against published volumes', () => {
  // Under 400 mL: university hospital cross-cover guide; other texts say 500. Read.
  it.each([
    [399, true],
    [400, false],
  ])('%d mL in 24 h', (mL, under) => {
    expect(met(null, 24, mL).includes('under400Day')).toBe(under);
  });

  // Over 3 L or over 50 mL/kg a day: open textbook chapter. Read.
  it.each([
    [60, 3001, true],
    [60, 3000, false],
    [60, 2999, false],
    [50, 2501, true],
    [50, 2500, false],
  ])('%d kg, %d mL in 24 h', (kg, mL, over) => {
    expect(met(kg, 24, mL).includes('over3000Day')).toBe(over);
  });
});
