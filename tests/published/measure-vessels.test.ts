import { describe, expect, it } from 'vitest';
import { defaultBags, overFillMark, type FillMark } from '../../src/measure/bags.ts';
import { defaultContainers, vesselError } from '../../src/measure/containers.ts';
import { defaultFindingSettings, weigh } from '../../src/measure/findings.ts';
import { linesOf } from '../../src/measure/lines.ts';
import type { Bag, Container } from '../../src/measure/vessel.ts';
import { millilitres as mL } from '../../src/measure/volume.ts';

const container = (id: string): Container => {
  const found = defaultContainers.find(({ item }) => item.id === id);
  if (found === undefined) throw new Error(`no container ${id}`);
  return found.item;
};
const bag = (id: string): Bag => {
  const found = defaultBags.find(({ item }) => item.id === id);
  if (found === undefined) throw new Error(`no bag ${id}`);
  return found.item;
};
const said = (amount: number, vessel: Container, emptied: Bag | null = null, before = 0) =>
  weigh(
    {
      mL: mL(amount),
      fills: before === 0 ? [] : [mL(before)],
      container: vessel,
      kind: 'urineCatheter',
      at: 0,
      soundAlike: [],
    },
    { bag: emptied, earlier: [], weight: null, settings: defaultFindingSettings },
  ).map(({ code }) => code);

describe('When graduates follow GSA Commercial Item Description A-A-51059 (read)', () => {
  it('size 1 has 50 to 500 mL every 50, size 2 has 100 to 1000 mL every 100', () => {
    expect(linesOf(container('graduate-500-50'))).toEqual([
      50, 100, 150, 200, 250, 300, 350, 400, 450, 500,
    ]);
    expect(linesOf(container('graduate-1000-100'))).toEqual([
      100, 200, 300, 400, 500, 600, 700, 800, 900, 1000,
    ]);
  });

  it('5 % is 25 mL at 500 and 50 mL at 1000: above 500 it is wider than the NNAAP tolerance', () => {
    expect(vesselError(container('graduate-500-50'), 500)).toBe(25);
    expect(vesselError(container('graduate-1000-100'), 1000)).toBe(50);
    expect(said(500, container('graduate-1000-100'))).toEqual([]);
    expect(said(600, container('graduate-1000-100'))).toEqual(['vesselErrorWiderThanTolerance']);
  });
});

describe('When more is said than a vessel holds', () => {
  it('a bedside bag of 2000 mL (Welsh NHS data card; read): 2,150 is asked about', () => {
    expect(said(1150, container('graduate-1200-50'), bag('bedside-2000'), 1000)).toContain(
      'aboveBag',
    );
    expect(said(1000, container('graduate-1200-50'), bag('bedside-2000'), 1000)).not.toContain(
      'aboveBag',
    );
  });

  it('a leg bag of 500 mL (Nursing Times 104:43, 2008; read): 520 is asked about, 490 is not', () => {
    expect(said(520, container('graduate-1000-25'), bag('leg-500'))).toContain('aboveBag');
    expect(said(490, container('graduate-1000-25'), bag('leg-500'))).not.toContain('aboveBag');
  });

  // Sizes of hat and urinal: trade practice, from memory.
  it.each([
    ['hat-800-50', 850],
    ['urinal-1000-50', 1050],
  ])('%s: %d is asked about', (id, amount) => {
    expect(said(amount, container(id))).toContain('aboveContainer');
  });

  it('437 in a vessel with a line every 25 mL is asked about; on 425 it is not', () => {
    expect(said(437, container('graduate-1000-25'))).toEqual(['betweenLines']);
    expect(said(425, container('graduate-1000-25'))).toEqual([]);
  });

  it('950 and 430 from one bag are one emptying of 1,380 (arithmetic)', () => {
    expect(said(430, container('graduate-1000-25'), null, 950)).toEqual(['betweenLines']);
    expect(said(425, container('graduate-1000-25'), null, 950)).toEqual([]);
  });
});

describe('When a bag should have been emptied: advice differs, so it is a setting', () => {
  // One-half, two-thirds: US and UK teaching (weak). Three-quarters: NSW Health 2021 (read).
  it.each<[FillMark, number, boolean]>([
    ['half', 1400, true],
    ['twoThirds', 1400, true],
    ['threeQuarters', 1400, false],
    ['half', 1000, false],
    ['half', 1001, true],
    ['twoThirds', 1333, false],
    ['twoThirds', 1334, true],
    ['threeQuarters', 1500, false],
    ['threeQuarters', 1501, true],
  ])('%s of 2000 mL at %d mL', (mark, held, over) => {
    expect(overFillMark(mL(held), bag('bedside-2000'), mark)).toBe(over);
  });
});
