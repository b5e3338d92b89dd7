import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hour, isUnderPerHour, isUnderPerKg, perHour, perKgHour } from './rates.ts';
import { millilitres } from './volume.ts';
import { grams, personWeight } from './weight.ts';

describe('When a rate is compared with a limit', () => {
  it('504 mL at 70 kg in 24 h is not under 0.3, whatever floats say', () => {
    expect(isUnderPerKg(millilitres(504), grams(70_000), 24 * hour, 3)).toBe(false);
    expect(isUnderPerKg(millilitres(503), grams(70_000), 24 * hour, 3)).toBe(true);
  });

  it('agrees with exact whole numbers of any length', () => {
    fc.assert(
      fc.property(
        fc.nat(20_000),
        fc.integer({ min: 500, max: 400_000 }),
        fc.integer({ min: 1, max: 72 * hour }),
        fc.constantFrom(3, 5),
        (mL, weight, ms, tenths) => {
          const exact =
            10_000n * BigInt(mL) * BigInt(hour) < BigInt(tenths) * BigInt(weight) * BigInt(ms);
          expect(isUnderPerKg(millilitres(mL), grams(weight), ms, tenths)).toBe(exact);
          expect(isUnderPerHour(millilitres(mL), ms, 30)).toBe(
            BigInt(mL) * BigInt(hour) < 30n * BigInt(ms),
          );
        },
      ),
    );
  });

  it('what is under a limit never shows as the limit', () => {
    fc.assert(
      fc.property(fc.nat(5_000), fc.integer({ min: 1, max: 48 * hour }), (mL, ms) => {
        if (!isUnderPerHour(millilitres(mL), ms, 30)) return;
        expect(perHour(millilitres(mL), ms)).toBeLessThan(30);
      }),
    );
    expect(perHour(millilitres(239), 8 * hour)).toBe(29.8);
    expect(perKgHour(millilitres(209), grams(70_000), 6 * hour)).toBe(0.49);
  });

  it.each([0, -1, 501, Number.NaN])('%d kg is no weight of a person', (kg) => {
    expect(personWeight(kg)).toBeNull();
  });

  it('weights are kept to the gram, and must be whole', () => {
    expect(personWeight(72.4)).toBe(72_400);
    expect(() => grams(0.5)).toThrow('grams_not_whole');
  });
});
