import { describe, expect, it } from 'vitest';
import { findings as words, findingVoice, type SayableFinding } from '../words/en-US/findings.ts';
import { defaultBags } from './bags.ts';
import { defaultContainers } from './containers.ts';
import { findingCodes, type Finding, type FindingCode } from './finding.ts';
import { defaultFindingSettings, weigh, type Circumstances, type Reading } from './findings.ts';
import { hour } from './rates.ts';
import { millilitres as mL } from './volume.ts';
import { personWeight } from './weight.ts';

const [graduate, gsa500, gsa1000] = defaultContainers.map(({ item }) => item);
const [bedside, leg] = defaultBags.map(({ item }) => item);
const now = Date.UTC(2026, 10, 25, 6);
const minute = 60_000;

const reading = (amount: number, more: Partial<Reading> = {}): Reading => ({
  mL: mL(amount),
  fills: [],
  container: graduate!,
  kind: 'urineCatheter',
  at: now,
  soundAlike: [],
  ...more,
});
const around = (more: Partial<Circumstances> = {}): Circumstances => ({
  bag: null,
  earlier: [],
  weight: null,
  settings: defaultFindingSettings,
  ...more,
});
const before = (hours: number, amount = 300) => ({ mL: mL(amount), at: now - hours * hour });
const codes = (found: readonly Finding[]): FindingCode[] => found.map(({ code }) => code);
const of = (found: readonly Finding[], code: FindingCode): Finding | undefined =>
  found.find((each) => each.code === code);

/** Each finding one step short of its boundary, where nothing is found, and one past it. */
const boundaries: [FindingCode, string, [Reading, Circumstances], [Reading, Circumstances]][] = [
  ['aboveContainer', '1000 and 1001 mL in 1000', [reading(1000), around()], [reading(1001), around()]],
  ['aboveFill', 'second fill', [reading(1000, { fills: [mL(950)] }), around()], [reading(1001, { fills: [mL(950)] }), around()]],
  ['betweenLines', '425 and 426 mL', [reading(425), around()], [reading(426), around()]],
  ['aboveBag', '2000 and 2001 mL of a 2000 mL bag', [reading(1000, { fills: [mL(1000)] }), around({ bag: bedside! })], [reading(951, { fills: [mL(1050)] }), around({ bag: bedside! })]],
  ['nothing', '1 and 0 mL', [reading(1), around()], [reading(0), around()]],
  ['under30PerHour', '240 and 239 mL in 8 h', [reading(240), around({ earlier: [before(8)] })], [reading(239), around({ earlier: [before(8)] })]],
  ['under30PerHour', 'only from two hours on', [reading(10), around({ earlier: [{ mL: mL(9), at: now - 2 * hour + 1 }] })], [reading(10), around({ earlier: [before(2)] })]],
  ['underHalfPerKg', '210 and 209 mL in 6 h at 70 kg', [reading(210), around({ earlier: [before(6)], weight: personWeight(70) })], [reading(209), around({ earlier: [before(6)], weight: personWeight(70) })]],
  ['farAboveOwnRate', 'three times the own rate, and 1 mL more', [reading(900), around({ earlier: [12, 9, 6, 3].map((h) => before(h)) })], [reading(901), around({ earlier: [12, 9, 6, 3].map((h) => before(h)) })]],
  ['farAboveOwnRate', 'not from two intervals', [reading(950), around({ earlier: [9, 6, 3].map((h) => before(h, 10)) })], [reading(950), around({ earlier: [12, 9, 6, 3].map((h) => before(h, 10)) })]],
  ['sameAgain', 'after 15 minutes and a ms', [reading(300), around({ earlier: [{ mL: mL(300), at: now - 15 * minute - 1 }] })], [reading(300), around({ earlier: [{ mL: mL(300), at: now - 15 * minute }] })]],
  ['sameAgain', 'another amount', [reading(325), around({ earlier: [{ mL: mL(300), at: now - minute }] })], [reading(300), around({ earlier: [{ mL: mL(300), at: now - minute }] })]],
  ['beforeLast', 'at the very moment, and a ms before', [reading(300), around({ earlier: [{ mL: mL(200), at: now }] })], [reading(300), around({ earlier: [{ mL: mL(200), at: now + 1 }] })]],
  ['sinceLast', 'nothing earlier', [reading(300), around()], [reading(300), around({ earlier: [before(4)] })]],
  ['overFillMark', 'two-thirds of 2000', [reading(333, { fills: [mL(1000)] }), around({ bag: bedside! })], [reading(334, { fills: [mL(1000)] }), around({ bag: bedside! })]],
  ['vesselErrorWiderThanTolerance', '5 % of 500 and of 600', [reading(500, { container: gsa1000! }), around()], [reading(600, { container: gsa1000! }), around()]],
  ['overOstomyDay', '1,499 and 1,500 mL in 24 h', [reading(499, { kind: 'ostomy' }), around({ earlier: [before(23, 1000)] })], [reading(500, { kind: 'ostomy' }), around({ earlier: [before(23, 1000)] })]],
  ['overOstomyDay', 'what is 24 hours old is another day', [reading(500, { kind: 'ostomy' }), around({ earlier: [before(24, 1000)] })], [reading(500, { kind: 'ostomy' }), around({ earlier: [{ mL: mL(1000), at: now - 24 * hour + 1 }] })]],
  ['soundAlike', 'partners passed in', [reading(350), around()], [reading(350, { soundAlike: [mL(315)] }), around()]],
]; // prettier-ignore

describe('When a reading is at a boundary', () => {
  it.each(boundaries)('%s: %s', (code, _, short, past) => {
    expect(codes(weigh(...short))).not.toContain(code);
    expect(codes(weigh(...past))).toContain(code);
  });

  it('every code stands in the table', () => {
    expect(new Set(boundaries.map(([code]) => code))).toEqual(new Set(findingCodes));
  });
});

describe('When figures are given', () => {
  it('two lines and the line by the unit’s rule', () => {
    expect(weigh(reading(437), around())[0]).toEqual({
      code: 'betweenLines',
      severity: 'ask',
      figures: { mL: 437, below: 425, above: 450, line: 425 },
    });
    const up = { ...defaultFindingSettings, rounding: 'up' as const };
    expect(of(weigh(reading(437), around({ settings: up })), 'betweenLines')?.figures.line).toBe(
      450,
    );
  });

  it('hours and rate since the last emptying, of the whole emptying', () => {
    const found = weigh(reading(430, { fills: [mL(950)] }), around({ earlier: [before(9)] }));
    expect(of(found, 'sinceLast')?.figures).toEqual({ mL: 1380, hours: 9, rate: 153.3 });
  });

  it('a 500 mL container at 5 % is never wider than 25 mL', () => {
    const found = weigh(reading(500, { container: gsa500! }), around());
    expect(codes(found)).not.toContain('vesselErrorWiderThanTolerance');
  });

  it('a leg bag of 500: 520 is asked about, 490 is noted', () => {
    expect(weigh(reading(520), around({ bag: leg! })).map((f) => [f.code, f.severity])).toEqual([
      ['aboveBag', 'ask'],
      ['betweenLines', 'ask'],
    ]);
    expect(of(weigh(reading(490), around({ bag: leg! })), 'overFillMark')?.severity).toBe('note');
  });

  it('rates are for urine: vomit under 30 mL/h is nothing to say', () => {
    const found = weigh(reading(25, { kind: 'emesis' }), around({ earlier: [before(8)] }));
    expect(codes(found)).toEqual(['sinceLast']);
  });

  it('order of the earlier amounts does not matter', () => {
    const earlier = [before(3), before(12), before(6), before(9)];
    expect(weigh(reading(901), around({ earlier }))).toEqual(
      weigh(reading(901), around({ earlier: [...earlier].reverse() })),
    );
  });
});

describe('When a unit chooses how serious a finding is', () => {
  it('its choice stands, and what asks comes first', () => {
    const severities = { betweenLines: 'note', under30PerHour: 'ask' } as const;
    const settings = { ...defaultFindingSettings, severities };
    const found = weigh(reading(37), around({ earlier: [before(8)], settings }));
    expect(found.map(({ code, severity }) => [code, severity])).toEqual([
      ['under30PerHour', 'ask'],
      ['betweenLines', 'note'],
      ['sinceLast', 'note'],
    ]);
  });

  it('no urine is told and an impossible number is asked about, whatever was chosen', () => {
    const severities = { nothing: 'note', aboveContainer: 'note' } as Record<string, 'note'>;
    const settings = { ...defaultFindingSettings, severities };
    expect(weigh(reading(0), around({ settings }))[0]).toMatchObject({ severity: 'tell' });
    expect(weigh(reading(1001), around({ settings }))[0]).toMatchObject({ severity: 'ask' });
  });
});

describe('When a finding is put into words', () => {
  const found = boundaries.map(([code, , , past]) => of(weigh(...past), code)!);

  it.each(found.map((finding) => [finding.code, finding] as const))('%s', (_, finding) => {
    const code: SayableFinding = finding.code;
    const { screen, reviewer, source } = words[code];
    const all = [
      findingVoice(code, 'ask', finding.figures),
      findingVoice(code, 'tell', finding.figures),
      screen(finding.figures),
      reviewer(finding.figures),
    ];
    for (const text of all) {
      expect(text).toMatch(/^[A-Z0-9].*[.?]$/i);
      expect(text).not.toMatch(/normal|stage|oligur|anur|polyur|NaN|undefined|\bcc\b|\d\s?ml\b/);
    }
    expect(findingVoice(code, 'tell', finding.figures)).toContain('Tell the nurse.');
    expect(findingVoice(code, 'note', finding.figures)).toBe('');
    expect(source.length).toBeGreaterThan(5);
  });

  it('speaks numbers as an aide would hear them', () => {
    expect(findingVoice('betweenLines', 'ask', { below: 425, above: 450 })).toBe(
      'That is between four hundred twenty five and four hundred fifty. Which line?',
    );
  });
});
