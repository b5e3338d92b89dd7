import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import { describe, expect, it } from 'vitest';
import { intakeOf } from '../../src/measure/intake.ts';
import { fromOunces, household } from '../../src/measure/ounces.ts';
import { padAmount, weighedLate } from '../../src/measure/pad.ts';
import { defaultServings } from '../../src/measure/servings.ts';
import { millilitres as mL } from '../../src/measure/volume.ts';
import { grams } from '../../src/measure/weight.ts';

describe('When ounces are charted', () => {
  it('21 CFR 101.9(b)(5)(viii) (read): 30 mL an ounce, cup 240, tablespoon 15, teaspoon 5', () => {
    expect(fromOunces(8, 30)).toBe(240);
    expect(fromOunces(32, 30)).toBe(960);
    expect(household).toEqual({ teaspoon: 5, tablespoon: 15, fluidOunce: 30, cup: 240 });
  });

  it.each([1, 4, 8, 12, 16, 32, 100])('UCUM [foz_us], by an independent converter: %d oz', (oz) => {
    const converted = UcumLhcUtils.getInstance().convertUnitTo('[foz_us]', oz, 'mL');
    expect(converted.status).toBe('succeeded');
    expect(fromOunces(oz, 29.5735)).toBe(Math.round(converted.toVal ?? Number.NaN));
  });

  it('1 cm3 is 1 mL (SI): what is said as cc has no factor', () => {
    expect(UcumLhcUtils.getInstance().convertUnitTo('cm3', 325, 'mL').toVal).toBeCloseTo(325, 9);
  });
});

describe('When ice is charted (nursing-school notes; read. One cardiac diet sheet differs)', () => {
  const ice = (size: number) =>
    intakeOf({ id: 'ice', label: 'Ice', size: mL(size), kind: 'ice' }, { drunk: 'all' });

  it('100 of ice is 50, 200 is 100, and a 16 oz cup is 240 mL', () => {
    expect(ice(100)).toMatchObject({ mL: 50, volume: 100 });
    expect(ice(200)).toMatchObject({ mL: 100, volume: 200 });
    expect(ice(fromOunces(16, 30))).toMatchObject({ mL: 240, volume: 480 });
  });
});

describe('When servings come from the fact sheet (UW Health 475; read)', () => {
  it.each([
    ['juice', 120],
    ['ice-cream', 120],
    ['gelatin', 120],
    ['sherbet', 120],
    ['broth', 180],
    ['milk', 240],
    ['soda', 360],
    ['soup', 120],
  ])('%s is %d mL', (id, size) => {
    expect(defaultServings.find(({ item }) => item.id === id)?.item.size).toBe(size);
  });

  it('pops and soda with ice are within the range given', () => {
    const size = (id: string) => defaultServings.find(({ item }) => item.id === id)?.item.size ?? 0;
    expect(size('ice-pop')).toBeGreaterThanOrEqual(80);
    expect(size('ice-pop')).toBeLessThanOrEqual(90);
    expect(size('soda-ice')).toBeGreaterThanOrEqual(270);
    expect(size('soda-ice')).toBeLessThanOrEqual(280);
  });
});

describe('When a pad is weighed (NHS community bladder and bowel service; read)', () => {
  const weighed = (wet: number, dry: number | null, soiled = false) =>
    padAmount({ wet: grams(wet), dry: dry === null ? null : grams(dry), soiled });

  it('412 g wet less 38 g dry is 374 mL', () => {
    expect(weighed(412, 38)).toEqual({ ok: true, mL: 374 });
  });

  it('as wet as dry is 0 mL, and lighter is refused', () => {
    expect(weighed(38, 38)).toEqual({ ok: true, mL: 0 });
    expect(weighed(37, 38)).toEqual({ ok: false, refusal: 'pad_wet_below_dry' });
  });

  it('a pad soiled with stool is refused, and so is one without its dry weight', () => {
    expect(weighed(412, 38, true)).toEqual({ ok: false, refusal: 'pad_soiled' });
    expect(weighed(412, null)).toEqual({ ok: false, refusal: 'pad_dry_unknown' });
  });

  it('after half an hour it is late (Acta Paediatrica 2009; read: 8 % lost by then)', () => {
    expect(weighedLate(0, 30 * 60_000)).toBe(false);
    expect(weighedLate(0, 30 * 60_000 + 1)).toBe(true);
  });
});
