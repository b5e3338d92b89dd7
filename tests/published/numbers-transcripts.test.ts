import { describe, expect, it } from 'vitest';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { grammarFiles } from '../support/grammarFiles.ts';

const interpreter = createInterpreter(grammarFiles());
const read = (said: string) => interpreter.volume(said, { ounceIn: 30 });

// Source: the spoken and written pairs of NVIDIA/NeMo-text-processing (Apache-2.0), folder
// tests/nemo_text_processing/en/data_inverse_text_normalization, files test_cases_cardinal.txt
// (7e780bb) and test_cases_measure.txt (40455b3). All that are within 100,000 or bear a unit of ours.
describe('When published pairs of spoken and written numbers are read', () => {
  it.each([
    ['two hundred and fifty four', 254],
    ['forty six thousand six hundred sixty four', 46664],
    ['sixty', 60],
    ['zero', 0],
    ['one thousand thirteen', 1013],
    ['one thousand one', 1001],
    ['one thousand one hundred', 1100],
    ['one thousand twenty six', 1026],
    ['one thousand one hundred twenty six', 1126],
    ['eighteen thousand eight hundred eighty', 18880],
    ['eleven hundred', 1100],
    ['twenty one hundred', 2100],
    ['twenty one hundred and eleven', 2111],
    ['eleven hundred twenty one', 1121],
    ['four hundred forty milliliters', 440],
    ['one thousand five hundred thirty one c c', 1531],
    ['one hundred fifty c c', 150],
    ['eight hundred ninety four c c', 894],
  ])('%s', (said, mL) => {
    expect(read(said)).toMatchObject({ mL, ambiguous: [], refused: null });
    expect(read(String(mL))).toMatchObject({ mL });
  });

  it('eighteen ounces, by the 30 mL of 21 CFR 101.9(b)(5)(viii)', () => {
    expect(read('eighteen ounces')).toMatchObject({ mL: 540 });
  });

  it.each([
    ['one hundred forty seven thousand four hundred fifty one', 'too_large'],
    ['one million one hundred fifty six thousand one hundred seventy three', 'too_large'],
    ['two million three', 'too_large'],
    ['minus sixty', 'not_a_volume'],
    ['minus twenty five thousand thirty seven', 'not_a_volume'],
    ['eighteen million four hundred fifty thousand nine hundred ninety', 'too_large'],
    ['ninety grams', 'dose'],
    ['eight kilograms', 'other_unit'],
    ['eight hundred fifty meters', 'not_a_volume'],
    ['two hundred kilometers per hour', 'time'],
    ['eighteen point six percent', 'vitals'],
    ['nine ninety eight percent', 'vitals'],
    ['three hours', 'time'],
    ['two feet', 'other_unit'],
    ['thirty one thousand four hundred eighty square feet', 'other_unit'],
    ['eight hundred horsepower', 'not_a_volume'],
    ['two cubic meters', 'not_a_volume'],
    ['eight hectares', 'not_a_volume'],
  ])('no volume: %s', (said, refused) => {
    expect(read(said)).toMatchObject({ mL: null, ambiguous: [], refused });
  });
});

// Source: ICAO Annex 10 volume II, 5.2.1.4: how numbers are pronounced on the radio.
describe('When numbers are said as on the radio', () => {
  it.each([
    ['tree fife zero', 350],
    ['niner zero zero', 900],
    ['one two fife zero', 1250],
    ['tree hundred', 300],
    ['fife hundred', 500],
  ])('%s', (said, mL) => {
    expect(read(said).mL).toBe(mL);
  });
});

// Source: ISMP, 24 January 2001 (15 mg taken for 50 mg); Pennsylvania Patient Safety Advisory, June 2006.
describe('When one vowel tells two numbers apart', () => {
  const pairs = [13, 14, 15, 16, 17, 18, 19].map((teen) => [teen, (teen - 10) * 10] as const);
  it.each(pairs.flatMap(([a, b]) => [0, 100, 200, 900, 1300].map((h) => [h + a, h + b] as const)))(
    '%i and %i are partners',
    (a, b) => {
      expect(read(String(a)).soundAlike).toEqual([b]);
      expect(read(String(b)).soundAlike).toEqual([a]);
    },
  );
  it.each([10, 20, 25, 100, 120, 375, 1000])('%i has no partner', (volume) => {
    expect(read(String(volume)).soundAlike).toEqual([]);
  });
});
