import { describe, expect, it } from 'vitest';
import { builtIn } from '../../src/procedures/builtIn.ts';
import { everySetting } from '../../src/procedures/check.ts';
import { firstWith, gloveSpan, lastWith } from '../../src/procedures/gloveSpan.ts';
import type { Mark } from '../../src/procedures/marks.ts';
import { procedureFor } from '../../src/procedures/procedureFor.ts';
import {
  defaultSettings,
  type Procedure,
  type ProcedureSettings,
} from '../../src/procedures/schema.ts';

const named = (id: string): Procedure => {
  const found = builtIn.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no procedure ${id}`);
  return found;
};
const chosen = (id: string, settings: Partial<ProcedureSettings> = {}) =>
  procedureFor(named(id), { ...defaultSettings, ...settings }).steps;
const ids = (id: string, settings: Partial<ProcedureSettings> = {}) =>
  chosen(id, settings).map((step) => step.id);
const inOrder = (
  id: string,
  wanted: readonly string[],
  settings: Partial<ProcedureSettings> = {},
) => expect(ids(id, settings).filter((step) => wanted.includes(step))).toEqual(wanted);
const bags = ['drainage-bag', 'leg-bag'];

describe('When urine from a bedpan is measured as NNAAP lists it, older text (read)', () => {
  it('gloves, pour, level, read, empty, rinse container, rinse pan, gloves off, wash, record', () => {
    inOrder('bedpan-hat', [
      'gloves-on',
      'transfer',
      'flat',
      'read',
      'pour',
      'rinse',
      'rinse-pan',
      'gloves-off',
      'wash-hands',
      'document',
    ]);
  });

  it('later handbooks (from memory) rinse the pan directly after pouring: a setting', () => {
    inOrder('bedpan-hat', ['transfer', 'rinse-pan', 'flat', 'read', 'rinse'], {
      rinse: 'beforeReading',
    });
  });

  it('later handbooks (from memory) round up between lines: a setting', () => {
    const call = (settings: Partial<ProcedureSettings>) =>
      chosen('bedpan-hat', settings).find(({ kind }) => kind === 'reading')?.call;
    expect(call({})).toMatch(/nearest line/);
    expect(call({ rounding: 'up' })).toMatch(/line above/);
  });
});

describe('When a drainage bag is emptied as state RN-observer lists have it (Nevada v20; found)', () => {
  it('keeps the order of the list, the record after washing', () => {
    inOrder('drainage-bag', [
      'clean-hands',
      'explain',
      'bed-height',
      'gloves-on',
      'barrier',
      'container-down',
      'open-tap',
      'close-tap',
      'wipe-tap',
      'holder',
      'bed-low',
      'flat',
      'read',
      'pour',
      'rinse',
      'dry',
      'comfort',
      'gloves-off',
      'wash-hands',
      'document',
    ]);
  });

  it('the gown variant (read) records before gloves come off', () => {
    inOrder('drainage-bag', ['comfort', 'document', 'gloves-off', 'wash-hands'], {
      record: 'beforeGlovesOff',
    });
  });

  it('the older plain-bag variant (read) records between gloves and washing', () => {
    inOrder('drainage-bag', ['gloves-off', 'document', 'wash-hands'], {
      record: 'beforeHandsWashed',
    });
  });

  it.each(bags)('%s: closed before wiped before returned, flat before eye level', (id) => {
    const steps = chosen(id);
    const order = (
      ['openTap', 'closeTap', 'wipeTap', 'tapInHolder', 'flatSurface', 'eyeLevel'] as const
    ).map((mark) => firstWith(steps, mark));
    expect(order).toEqual([...order].sort((one, other) => one - other));
    expect(order[0]).toBeGreaterThan(0);
  });
});

describe('When a urine bag is emptied as CDC/HICPAC 2009, III.A to III.C, and the SHEA pocket card have it', () => {
  const points: Mark[] = [
    'bagBelowBladder',
    'noKinks',
    'ownContainer',
    'tipTouchesNothing',
    'closeTap',
    'tapInHolder',
  ];
  it.each(bags)('%s: every point has its step, and it is critical', (id) => {
    for (const mark of points) {
      const step = chosen(id).find(({ marks }) => marks.includes(mark));
      expect(step, mark).toMatchObject({ critical: true });
    }
  });

  it('a bedside bag is looked at off the floor, before and after the bed is lowered', () => {
    const steps = chosen('drainage-bag');
    expect(firstWith(steps, 'offFloor')).toBeLessThan(lastWith(steps, 'offFloor'));
  });

  it('nothing is disconnected, irrigated, clamped or sampled (SHEA, AHRQ; read)', () => {
    const text = JSON.stringify(
      builtIn.map(({ steps }) => steps.map(({ call, why }) => call + why)),
    );
    expect(text).not.toMatch(/disconnect|irrigat|clamp|sampl|specimen/i);
  });
});

describe('When hands are gloved', () => {
  const walks = builtIn.flatMap((procedure) =>
    everySetting.map(
      (settings) =>
        [
          `${procedure.id}, ${Object.values(settings).join(', ')}`,
          procedureFor(procedure, settings).steps,
          settings,
        ] as const,
    ),
  );

  it.each(walks)('OSHA 1910.1030, WHO moments (read): %s', (_, steps, settings) => {
    const hygiene = steps.flatMap(({ marks }, index) =>
      marks.includes('handHygiene') ? [index] : [],
    );
    expect(hygiene.length).toBeGreaterThanOrEqual(2);
    const span = gloveSpan(steps);
    if (span === null) return expect(steps.some((step) => step.gloved)).toBe(false);
    expect(hygiene[0]).toBeLessThan(span.from);
    const off = lastWith(steps, 'glovesOff');
    const after = settings.record === 'beforeHandsWashed' ? off + 2 : off + 1;
    expect(span.to).toBe(after);
    const gloved = steps.flatMap((step, index) => (step.gloved ? [index] : []));
    expect(gloved).toEqual(steps.map((__, index) => index).slice(span.from, off + 1));
  });

  it('by default nothing is recorded before gloves are off and hands washed (NNAAP; read)', () => {
    for (const { id } of builtIn) {
      const steps = chosen(id);
      const document = steps.findIndex(({ kind }) => kind === 'document');
      expect(document, id).toBeGreaterThan(lastWith(steps, 'handsWashed'));
      expect(document, id).toBeGreaterThan(lastWith(steps, 'glovesOff'));
    }
  });
});

describe('When steps are critical', () => {
  it('eye level on a flat surface is (NNAAP bold type, from memory)', () => {
    for (const { id, containers } of builtIn.filter((each) => each.fluid !== 'oralFluid')) {
      if (containers.length === 0) continue;
      for (const mark of ['flatSurface', 'eyeLevel'] as const)
        expect(
          chosen(id).find(({ marks }) => marks.includes(mark)),
          `${id} ${mark}`,
        ).toMatchObject({ critical: true });
    }
  });
});
