import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fractions, intakeOf, intakeSum, type Fraction, type Serving } from './intake.ts';
import { millilitres as mL } from './volume.ts';

const serving = (size: number, kind: Serving['kind'] = 'fluid'): Serving => ({
  id: 's',
  label: 's',
  size: mL(size),
  kind,
});

const taken = (size: number, said: Parameters<typeof intakeOf>[1], kind?: Serving['kind']) => {
  const amount = intakeOf(serving(size, kind), said);
  if (!amount.ok) throw new Error(amount.refusal);
  return amount;
};

describe('When a serving was drunk in part', () => {
  it.each([
    ['all', 240],
    ['threeQuarters', 180],
    ['twoThirds', 160],
    ['half', 120],
    ['third', 80],
    ['quarter', 60],
    ['none', 0],
  ] as const)('%s of 240 mL is %d mL, and estimated', (drunk, amount) => {
    expect(taken(240, { drunk })).toMatchObject({ mL: amount, method: 'estimated' });
  });

  it('what is left is taken away, and measured', () => {
    expect(taken(240, { left: mL(90) })).toMatchObject({ mL: 150, method: 'measured' });
    expect(taken(240, { left: mL(240) }).mL).toBe(0);
  });

  it('more left than served is refused', () => {
    expect(intakeOf(serving(240), { left: mL(241) })).toEqual({
      ok: false,
      refusal: 'left_above_served',
    });
  });

  it('never more than was served, and never lost to rounding by more than half a mL', () => {
    const names = Object.keys(fractions) as Fraction[];
    fc.assert(
      fc.property(fc.nat(2000), fc.constantFrom(...names), (size, drunk) => {
        const [part, of] = fractions[drunk];
        const amount = taken(size, { drunk }).mL;
        expect(amount).toBeLessThanOrEqual(size);
        expect(Math.abs(amount - (size * part) / of)).toBeLessThanOrEqual(0.5);
      }),
    );
  });
});

describe('When ice is served', () => {
  it('half of it counts, and the volume is kept', () => {
    expect(taken(200, { drunk: 'all' }, 'ice')).toMatchObject({ mL: 100, volume: 200 });
    expect(taken(25, { drunk: 'all' }, 'ice').mL).toBe(13);
  });
});

describe('When a tray is added up', () => {
  it('measured and estimated stay apart', () => {
    const tray = [
      taken(240, { left: mL(90) }),
      taken(120, { drunk: 'half' }),
      taken(180, { left: mL(0) }),
    ];
    expect(intakeSum(tray)).toEqual({ measured: 330, estimated: 60 });
    expect(intakeSum([])).toEqual({ measured: 0, estimated: 0 });
  });
});
