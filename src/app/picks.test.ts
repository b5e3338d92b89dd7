import { describe, expect, test } from 'vitest';
import { builtIn } from '../procedures/builtIn.ts';
import { choiceFor, type Picked } from './choiceFor.ts';
import { defaultUnit } from './defaultUnit.ts';
import { pickedAt, picksAfterSetUp, readPicks, withPick, type Picks } from './picks.ts';

const bed = defaultUnit.beds[3]!;
const begun = (known: Picks, id: string, picked: Picked): Picks => {
  const procedure = builtIn.find((each) => each.id === id)!;
  return withPick(known, defaultUnit, choiceFor(defaultUnit, bed, procedure, picked)!);
};

describe('When something was picked at a bed', () => {
  const picked = begun({}, 'weighed-pad', { pad: 'bed-pad' });

  test('it is known for this bed and this procedure, and for no other', () => {
    expect(pickedAt(picked, 'bed-4', 'weighed-pad')).toEqual({ pad: 'bed-pad' });
    expect(pickedAt(picked, 'bed-4', 'drainage-bag')).toEqual({});
    expect(pickedAt(picked, 'bed-5', 'weighed-pad')).toEqual({});
  });

  test('container and bag are kept as the pad is, beside each other', () => {
    const both = begun(picked, 'drainage-bag', { container: 'graduate-500-50' });
    expect(both).toEqual({
      'bed-4': {
        'weighed-pad': { pad: 'bed-pad' },
        'drainage-bag': { container: 'graduate-500-50' },
      },
    });
  });

  test('the same again changes nothing, and what the bed starts from takes it back', () => {
    expect(begun(picked, 'weighed-pad', { pad: 'bed-pad' })).toBe(picked);
    expect(begun(picked, 'weighed-pad', { pad: 'pad-small' })).toEqual({ 'bed-4': {} });
  });

  test('a bed that is set up anew starts from that; the others keep theirs', () => {
    const known = { 'bed-4': { a: { pad: 'x' } }, 'bed-5': { a: { pad: 'y' } }, gone: {} };
    const after = defaultUnit.beds.map((each) =>
      each.id === 'bed-4' ? { ...each, container: 'graduate-500-50' } : { ...each, weight: 60 },
    );
    expect(picksAfterSetUp(known, defaultUnit.beds, after)).toEqual({
      'bed-5': { a: { pad: 'y' } },
    });
  });
});

describe('When picks are read from the disk', () => {
  test.each([undefined, null, 7, 'x', { 'bed-4': 3 }, { 'bed-4': { a: { pad: 4 } } }])(
    '%j is no pick',
    (data) => {
      expect(readPicks(data)).toEqual({});
    },
  );

  test('what was kept comes back', () => {
    const kept = begun({}, 'weighed-pad', { pad: 'bed-pad' });
    expect(readPicks(JSON.parse(JSON.stringify(kept)))).toEqual(kept);
  });
});
