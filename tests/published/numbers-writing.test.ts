import fc from 'fast-check';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { defaultBags } from '../../src/measure/bags.ts';
import { defaultContainers } from '../../src/measure/containers.ts';
import { defaultFindingSettings, weigh, type Circumstances } from '../../src/measure/findings.ts';
import { millilitres } from '../../src/measure/volume.ts';
import { figureText, signedText } from '../../src/screens/sheet/figuresText.ts';
import { findings } from '../../src/words/en-US/findings.ts';
import { amountText, spelled } from '../../src/words/en-US/numbers.ts';

/**
 * How an amount may be written.
 *
 * ISMP List of Error-Prone Abbreviations, Symbols, and Dose Designations (2021): "mL" and not "cc",
 * "ml"; a space between number and unit; no point after the unit; commas from 1,000; no zero after
 * the point of a whole number; a zero before a naked point; "<" and ">" as words.
 * Joint Commission official Do-Not-Use list (IM.02.02.01): trailing zero, missing leading zero.
 */
const rules: readonly (readonly [string, RegExp])[] = [
  ['cc', /\bccs?\b/i],
  ['ml, ML or Ml', /\b(?:ml|ML|Ml)\b/],
  ['number and unit run together', /\d(?:mL|L|g|kg|h)\b/],
  ['a point after the unit inside a sentence', /\bmL\.\s+[a-z]/],
  ['a trailing zero', /\d\.\d*0(?!\d)/],
  ['a naked point', /(?<!\d)\.\d/],
  ['no comma from 1,000', /(?<![\d.,])\d{4,}\s*mL/],
  ['a sign for more or less', /[<>]\s*\d/],
];
const broken = (text: string) => rules.filter(([, rule]) => rule.test(text)).map(([name]) => name);

const wards = fc.record({
  amount: fc.integer({ min: 0, max: 5000 }),
  fills: fc.array(fc.integer({ min: 0, max: 2000 }), { maxLength: 2 }),
  container: fc.constantFrom(...defaultContainers.map(({ item }) => item)),
  bag: fc.constantFrom(null, ...defaultBags.map(({ item }) => item)),
  kind: fc.constantFrom('urineCatheter', 'ostomy' as const),
  grams: fc.constantFrom(null, 45_500, 80_000, 123_400),
  earlier: fc.array(
    fc.record({
      mL: fc.integer({ min: 0, max: 3000 }),
      minutes: fc.integer({ min: 1, max: 3000 }),
    }),
    { maxLength: 5 },
  ),
  alike: fc.constantFrom([], [150], [115, 1350]),
});

describe('When the rules are turned on what may not be written', () => {
  it.each([
    ['350 cc', 'cc'],
    ['350 ml', 'ml, ML or Ml'],
    ['350mL', 'number and unit run together'],
    ['350 mL. of urine', 'a point after the unit inside a sentence'],
    ['350.0 mL', 'a trailing zero'],
    ['.5 L', 'a naked point'],
    ['1380 mL', 'no comma from 1,000'],
    ['<30 mL/h', 'a sign for more or less'],
  ])('%s is found', (text, name) => {
    expect(broken(text)).toContain(name);
  });
});

describe('When an amount is written (ISMP 2021, Joint Commission IM.02.02.01)', () => {
  it('1,380 mL', () => {
    expect(amountText(1380)).toBe('1,380 mL');
  });

  it('every whole number up to 100,000 keeps the rules and its value', () => {
    for (let mL = 0; mL <= 100_000; mL++) {
      const text = amountText(mL);
      expect(broken(text)).toEqual([]);
      expect(Number(text.replace(' mL', '').replaceAll(',', ''))).toBe(mL);
    }
  });

  it('figures of the sheet have commas, a true minus and no point', () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), (mL) => {
        expect(figureText(mL)).toMatch(/^\d{1,3}(?:,\d{3})*$/);
        expect(signedText(mL)).toMatch(/^(?:0|[+−]\d{1,3}(?:,\d{3})*)$/);
      }),
    );
  });

  it('every sentence of every finding keeps them', () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(wards, ({ amount, fills, container, bag, kind, grams, earlier, alike }) => {
        const at = 10_000_000_000;
        const around = {
          bag,
          weight: grams as Circumstances['weight'],
          earlier: earlier.map(({ mL, minutes }) => ({
            mL: millilitres(mL),
            at: at - minutes * 60_000,
          })),
          settings: defaultFindingSettings,
        };
        const reading = {
          mL: millilitres(amount),
          fills: fills.map(millilitres),
          container,
          kind,
          at,
          soundAlike: alike.map(millilitres),
        };
        for (const { code, figures } of weigh(reading, around)) {
          met.add(code);
          const { said, asked, screen, reviewer } = findings[code];
          for (const text of [said(figures), asked, screen(figures), reviewer(figures)])
            expect({ text, broken: broken(text) }).toEqual({ text, broken: [] });
        }
      }),
      { numRuns: 2000 },
    );
    // The sentences were there to be looked at.
    expect(met.size).toBeGreaterThan(10);
  });
});

describe('When a sentence stands in the words of a locale', () => {
  const folder = new URL('../../src/words/en-US/', import.meta.url);
  const files = readdirSync(folder).filter((name) => !name.includes('.test.'));

  it.each(files)('%s writes none of them', (name) => {
    const text = readFileSync(new URL(name, folder), 'utf8');
    const sentences = [...text.matchAll(/'(?:[^'\\\n]|\\.)*'|"[^"\n]*"|`[^`]*`/g)].map(([all]) =>
      all.replace(/\$\{[^}]*\}/g, '7'),
    );
    const prose = sentences.filter((each) => /\d|\bm[lL]\b/.test(each) && each.includes(' '));
    expect(prose.flatMap((each) => broken(each).map((rule) => `${rule}: ${each}`))).toEqual([]);
  });
});

describe('When an amount is spoken', () => {
  it('has neither figure nor abbreviation for a voice to guess at', () => {
    for (let mL = 0; mL <= 5000; mL++) expect(spelled(mL)).toMatch(/^[a-z]+(?: [a-z]+)*$/);
  });
});
