import { describe, expect, it } from 'vitest';
import { defaultContainers } from './containers.ts';
import { addFill, noFills, withoutLastFill, type Fills } from './fills.ts';
import { millilitres as mL } from './volume.ts';

const graduate = defaultContainers[0]!.item;

const added = (fills: Fills, part: number): Fills => {
  const result = addFill(fills, mL(part), graduate);
  if (!result.ok) throw new Error(result.fault);
  return result.fills;
};

describe('When one bag takes several fills', () => {
  it('the parts are kept and the sum is charted', () => {
    expect(added(added(noFills, 950), 430)).toEqual({ parts: [950, 430], sum: 1380 });
  });

  it('a fill to the top line stands, and one more is refused', () => {
    expect(added(noFills, 1000).sum).toBe(1000);
    expect(addFill(noFills, mL(1001), graduate)).toEqual({ ok: false, fault: 'above_container' });
  });

  it('the last fill can be taken back', () => {
    expect(withoutLastFill(added(added(noFills, 950), 430))).toEqual({ parts: [950], sum: 950 });
    expect(withoutLastFill(noFills)).toEqual(noFills);
  });
});
