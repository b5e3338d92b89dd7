import { describe, expect, it } from 'vitest';
import { defaultBags } from '../../src/measure/bags.ts';
import { defaultContainers } from '../../src/measure/containers.ts';
import { findingCodes, type FindingCode } from '../../src/measure/finding.ts';
import {
  defaultFindingSettings,
  weigh,
  type Circumstances,
  type Earlier,
  type Reading,
} from '../../src/measure/findings.ts';
import { millilitres as mL } from '../../src/measure/volume.ts';
import { personWeight } from '../../src/measure/weight.ts';

const hour = 3_600_000;
const now = 100 * hour;
const found = <Item extends { readonly id: string }>(
  items: readonly { readonly item: Item }[],
  id: string,
): Item => {
  const item = items.find((each) => each.item.id === id)?.item;
  if (item === undefined) throw new Error(`no ${id}`);
  return item;
};
const vessel = (id: string) => found(defaultContainers, id);
const bag = (id: string) => found(defaultBags, id);
const ago = (hours: number, amount: number): Earlier => ({
  mL: mL(amount),
  at: now - hours * hour,
});

type Said = Partial<Omit<Reading, 'mL' | 'fills'>> & { readonly before?: number };

/** The findings of a number said into a 1000 mL graduate with a line every 25 mL, or as given. */
function codesOf(amount: number, said: Said, around: Partial<Circumstances>): FindingCode[] {
  const { before, ...rest } = said;
  const reading: Reading = {
    mL: mL(amount),
    fills: before === undefined ? [] : [mL(before)],
    container: vessel('graduate-1000-25'),
    kind: 'urineCatheter',
    at: now,
    soundAlike: [],
    ...rest,
  };
  const nothing = { bag: null, earlier: [], weight: null, settings: defaultFindingSettings };
  return weigh(reading, { ...nothing, ...around }).map(({ code }) => code);
}

interface Boundary {
  readonly code: FindingCode;
  /** Where the limit comes from: read, weak, arithmetic, or common practice. */
  readonly source: string;
  /** The last amount where it is not found, and the next one that can be read, where it is, mL. */
  readonly not: number;
  readonly yes: number;
  readonly said?: Said;
  readonly around?: Partial<Circumstances>;
}

const boundaries: readonly Boundary[] = [
  // A graduate reads no further than its top line: GSA CID A-A-51059 (read), 100 to 1000 mL.
  { code: 'aboveContainer', source: 'GSA A-A-51059 (read)', not: 1000, yes: 1100, said: { container: vessel('graduate-1000-100') } },
  { code: 'aboveFill', source: 'GSA A-A-51059 (read)', not: 500, yes: 550, said: { container: vessel('graduate-500-50'), before: 450 } },
  // A bedside bag holds 2 L: Welsh NHS test-lab data card (read).
  { code: 'aboveBag', source: 'Welsh NHS data card (read)', not: 1000, yes: 1025, said: { before: 1000, container: vessel('graduate-1200-50') }, around: { bag: bag('bedside-2000') } },
  // Only a line can be read: NNAAP skills listing, "at eye level" on a flat surface; rounding is the unit's.
  { code: 'betweenLines', source: 'NNAAP skills listing (read); arithmetic of the lines', not: 425, yes: 426 },
  // Nothing in 6 to 8 hours: home-care call list (read). Nothing at all is told whatever the hours.
  { code: 'nothing', source: 'home-care call list (read)', not: 25, yes: 0 },
  // Less than 30 mL/h over two hours: state university nursing-skills page (read). 60 mL in 2 h is not less.
  { code: 'under30PerHour', source: 'state university nursing-skills page (read)', not: 60, yes: 59, around: { earlier: [ago(2, 300)] } },
  // Below 0.5 mL/kg/h: KDIGO 2012, Table 2 (read). 70 kg in 6 h: 210 mL, strict.
  { code: 'underHalfPerKg', source: 'KDIGO 2012, Table 2 (read)', not: 210, yes: 209, around: { earlier: [ago(6, 300)], weight: personWeight(70) } },
  // Common practice, no source: three times the rate of the last three intervals; here 100 mL/h, 3 h.
  { code: 'farAboveOwnRate', source: 'common practice, no source', not: 900, yes: 901, around: { earlier: [12, 9, 6, 3].map((hours) => ago(hours, 300)) } },
  // Common practice, no source: the same amount within 15 minutes may be the same emptying twice.
  { code: 'sameAgain', source: 'common practice, no source', not: 325, yes: 300, around: { earlier: [ago(0.25, 300)] } },
  // Two-thirds of a 2 L bag: US teaching (weak); a setting.
  { code: 'overFillMark', source: 'US teaching, two-thirds (weak)', not: 333, yes: 334, said: { before: 1000 }, around: { bag: bag('bedside-2000') } },
  // 5 % printed error: GSA A-A-51059; 25 mL either way: NNAAP tolerance (read).
  { code: 'vesselErrorWiderThanTolerance', source: 'GSA A-A-51059, NNAAP tolerance (read)', not: 500, yes: 600, said: { container: vessel('graduate-1000-100') } },
  // 1,500 mL a day, within the 1,000 to 2,000 of reviews of ileostomy output (weak); a setting.
  { code: 'overOstomyDay', source: 'reviews of ileostomy output (weak)', not: 499, yes: 500, said: { kind: 'ostomy' }, around: { earlier: [ago(20, 1000)] } },
]; // prettier-ignore

/** Where the boundary is in the circumstances and not in the amount. */
const others: readonly Omit<Boundary, 'not' | 'yes'>[] = [
  // A reading cannot be from before the entry it follows: arithmetic.
  { code: 'beforeLast', source: 'arithmetic', around: { earlier: [{ mL: mL(200), at: now + 1 }] } },
  // Hours since the last emptying; a moment by itself has none.
  { code: 'sinceLast', source: 'arithmetic', around: { earlier: [ago(4, 200)] } },
  // Fifteen is heard for fifty: Pennsylvania patient-safety advisory, June 2006 (read).
  { code: 'soundAlike', source: 'Pennsylvania advisory, June 2006 (read)', said: { soundAlike: [mL(315)] } },
]; // prettier-ignore

describe('When a number is at the boundary of a finding', () => {
  it.each(boundaries)('$code ($source): not at $not mL, at $yes mL', (boundary) => {
    const { code, not, yes, said = {}, around = {} } = boundary;
    expect(codesOf(not, said, around)).not.toContain(code);
    expect(codesOf(yes, said, around)).toContain(code);
  });

  it.each(others)('$code ($source): only where the circumstances are such', (boundary) => {
    const { code, said = {}, around = {} } = boundary;
    expect(codesOf(350, {}, {})).not.toContain(code);
    expect(codesOf(350, said, around)).toContain(code);
  });

  it('sinceLast (arithmetic): from the first tenth of an hour, 6 minutes, on', () => {
    const after = (ms: number) => codesOf(350, {}, { earlier: [{ mL: mL(200), at: now - ms }] });
    expect(after(0.1 * hour - 1)).not.toContain('sinceLast');
    expect(after(0.1 * hour)).toContain('sinceLast');
  });

  it('sameAgain (common practice): to 15 minutes and no longer', () => {
    const after = (ms: number) => codesOf(300, {}, { earlier: [{ mL: mL(300), at: now - ms }] });
    expect(after(0.25 * hour)).toContain('sameAgain');
    expect(after(0.25 * hour + 1)).not.toContain('sameAgain');
  });

  it('under30PerHour (read): over two hours and more, and not over less', () => {
    const after = (ms: number) => codesOf(25, {}, { earlier: [{ mL: mL(300), at: now - ms }] });
    expect(after(2 * hour)).toContain('under30PerHour');
    expect(after(2 * hour - 1)).not.toContain('under30PerHour');
  });

  it('no finding is without its check here, and each says where its limit comes from', () => {
    const all = [...boundaries, ...others];
    expect(all.map(({ code }) => code).sort()).toEqual([...findingCodes].sort());
    for (const { source } of all)
      expect(source).toMatch(/\((read|weak)\)|arithmetic|common practice, no source/);
  });
});
