import { describe, expect, test } from 'vitest';
import { builtIn } from '../procedures/builtIn.ts';
import { choiceFor } from './choiceFor.ts';
import { defaultUnit } from './defaultUnit.ts';
import type { Unit } from './unit.ts';

const bed = { ...defaultUnit.beds[0]!, bag: null, container: 'graduate-500-50' };
const choose = (id: string, unit: Unit = defaultUnit, picked = {}) => {
  const procedure = builtIn.find((each) => each.id === id);
  if (procedure === undefined) throw new Error(`no procedure ${id}`);
  return choiceFor(unit, bed, procedure, picked);
};

describe('When a bed and a procedure are chosen', () => {
  test('the vessel picked stands, else the bed’s own, else the first that fits', () => {
    const picked = choose('drainage-bag', defaultUnit, { container: 'graduate-1000-25' });
    expect(picked?.container?.id).toBe('graduate-1000-25');
    expect(choose('drainage-bag')?.container?.id).toBe('graduate-500-50');
    expect(choose('oral-intake')?.container?.kind).toBe('cup');
    expect(choose('leg-bag')?.bag?.kind).toBe('leg');
  });

  test('what the procedure can not use is not taken, even when picked', () => {
    const picked = choose('drainage-bag', defaultUnit, { container: 'cup-240-30', bag: 'no-bag' });
    expect(picked?.container?.id).toBe('graduate-500-50');
    expect(picked?.bag?.kind).toBe('bedside');
    expect(choose('unmeasured-episode')).toMatchObject({ container: null, bag: null, pad: null });
  });

  test('a pad is weighed only where a dry weight is on file', () => {
    expect(choose('weighed-pad')?.pad?.id).toBe('pad-small');
    expect(choose('weighed-pad', defaultUnit, { pad: 'bed-pad' })?.pad?.id).toBe('bed-pad');
    expect(choose('weighed-pad', { ...defaultUnit, pads: [] })).toBeNull();
    expect(choose('drainage-bag', { ...defaultUnit, pads: [] })?.pad).toBeNull();
  });
});
