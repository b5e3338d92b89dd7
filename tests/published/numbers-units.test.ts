import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import { describe, expect, it } from 'vitest';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

const interpreter = createInterpreter(grammarFiles());
const ucum = UcumLhcUtils.getInstance();
const inMillilitres = (amount: number, unit: string) =>
  ucum.convertUnitTo(unit, amount, 'mL').toVal!;

// Source: UCUM, by @lhncbc/ucum-lhc 7.1.10.
describe('When a unit of the metric system or of UCUM is said', () => {
  it.each([
    ['one litre', 1, 'L'],
    ['half a litre', 0.5, 'L'],
    ['one point two five liters', 1.25, 'L'],
    ['1.2 L', 1.2, 'L'],
    ['three fifty cubic centimeters', 350, 'cm3'],
    ['three fifty milliliters', 350, 'mL'],
  ])('%s', (said, amount, unit) => {
    expect(interpreter.volume(said, {}).mL).toBe(Math.round(inMillilitres(amount, unit)));
  });

  it.each([1, 2, 4, 6, 8, 10, 12, 16, 20, 32])('%i fluid ounces of 29.5735 mL', (ounces) => {
    const said = `${ounces} fluid ounces`;
    const { mL } = interpreter.volume(said, { ounceIn: 29.5735 });
    expect(mL).toBe(Math.round(inMillilitres(ounces, '[foz_us]')));
  });

  it.each([1, 2, 3, 4])('%i cups of eight such ounces', (cups) => {
    const { mL } = interpreter.volume(`${cups} cups`, { ounceIn: 29.5735 });
    expect(mL).toBe(Math.round(inMillilitres(cups, '[cup_us]')));
  });
});

// Source: 21 CFR 101.9(b)(5)(viii): 1 fluid ounce is 30 mL, 1 cup 240 mL.
describe('When the unit counts household measures', () => {
  it.each([
    ['one ounce', 30],
    ['an ounce', 30],
    ['eight ounces', 240],
    ['four and a half ounces', 135],
    ['one cup', 240],
    ['two cups', 480],
    ['half a cup', 120],
    ['a cup and a half', 360],
  ])('%s', (said, mL) => {
    expect(interpreter.volume(said, { ounceIn: 30 }).mL).toBe(mL);
  });
});

// Source: ISMP List of Error-Prone Abbreviations, 2021: "cc" is heard and never written.
describe('When "cc" is said', () => {
  it.each(['three fifty cc', '350cc', "350 CC's", 'three fifty see sees'])('%s is mL', (said) => {
    const { mL, how } = interpreter.volume(said, {});
    expect({ mL, unit: how?.unit }).toEqual({ mL: 350, unit: 'mL' });
  });
});
