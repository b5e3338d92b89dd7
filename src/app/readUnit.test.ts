import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findings as findingWords } from '../words/en-US/findings.ts';
import { faultText, unit as words } from '../words/en-US/unit.ts';
import { findingCodes } from '../measure/finding.ts';
import { defaultUnit } from './defaultUnit.ts';
import { addOwn } from './ownProcedures.ts';
import { checkUnit, keptUnit, readUnit, unitText } from './readUnit.ts';
import type { Unit } from './unit.ts';

const urinal = readFileSync(join(import.meta.dirname, '../procedures/en-US/urinal.json'), 'utf8');
const own = JSON.parse(urinal) as object;

interface Tree {
  [key: string]: Tree;
}

/** The default unit as plain data, changed at some paths; undefined takes a key out. */
function changed(changes: Readonly<Record<string, unknown>>): unknown {
  const copy = JSON.parse(unitText(defaultUnit)) as Tree;
  for (const [path, value] of Object.entries(changes)) {
    const keys = path.split('.');
    const last = keys.pop()!;
    const holder = keys.reduce((tree, key) => tree[key]!, copy);
    holder[last] = value as Tree;
  }
  return JSON.parse(JSON.stringify(copy));
}

const faultsOf = (path: string, value: unknown) => {
  const read = checkUnit(changed({ [path]: value }));
  return read.ok ? [] : read.faults.map((fault) => [fault.path, fault.code, fault.about]);
};

describe('When a unit is written as a file', () => {
  it('reads back as it was', () => {
    expect(readUnit(unitText(defaultUnit))).toEqual({ ok: true, unit: defaultUnit });
  });

  it('keeps its own procedures', () => {
    const unit = { ...defaultUnit, procedures: [own] };
    const read = readUnit(JSON.stringify(unit));
    expect(read).toMatchObject({ ok: true, unit: { procedures: [{ id: 'urinal' }] } });
  });

  it('stands with one setting a line, so that two files can be compared', () => {
    expect(unitText(defaultUnit)).toContain('\n  "nurse": "",\n  "ear": "auto",\n');
  });
});

describe('When a file of a unit is broken', () => {
  it.each<[string, string, unknown, unknown[][]]>([
    ['a key that nobody knows', 'remote', true, [['remote', 'unknown_key', '']]],
    ['a key that is missing', 'nurse', undefined, [['nurse', 'missing', '']]],
    ['text for a number', 'lateAfter', '60', [['lateAfter', 'wrong_type', 'a number']]],
    ['an empty label', 'beds.2.label', ' ', [['beds.2.label', 'empty', '']]],
    ['a long label', 'name', 'x'.repeat(41), [['name', 'too_long', '40']]],
    ['no bed at all', 'beds', [], [['beds', 'empty', '']]],
    [
      'half a millilitre',
      'containers.0.capacity',
      10.5,
      [['containers.0.capacity', 'not_volume', '']],
    ],
    ['a line every 0', 'containers.1.lineStep', 0, [['containers.1.lineStep', 'not_volume', '']]],
    [
      'a first line above the top',
      'containers.0.lineStep',
      1001,
      [['containers.0.lineStep', 'line_above_top', '']],
    ],
    ['an ear of no name', 'ear', 'loud', [['ear', 'not_allowed', 'auto, bundled, typed, remote']]],
    [
      'initials in small letters',
      'roster.0.initials',
      'mk',
      [['roster.0.initials', 'not_initials', '']],
    ],
    ['initials twice', 'roster.1.initials', 'MK', [['roster.1.initials', 'twice', 'MK']]],
    ['a bed twice', 'beds.1.label', 'bed 1', [['beds.1.label', 'twice', 'bed 1']]],
    ['a bag that is not there', 'beds.0.bag', 'leg-9', [['beds.0.bag', 'unknown_bag', 'leg-9']]],
    ['a time of no clock', 'plan.dayFrom', '24:00', [['plan.dayFrom', 'not_time', '']]],
    [
      'two shifts at one time',
      'plan.shifts.1.from',
      '07:00',
      [['plan.shifts.1.from', 'twice', '07:00']],
    ],
    ['a zone of no map', 'plan.zone', 'Mars/Base', [['plan.zone', 'unknown_zone', 'Mars/Base']]],
    ['a limit of 0', 'findings.perHourLimit', 0, [['findings.perHourLimit', 'too_small', '1']]],
    ['a limit too high', 'findings.tolerance', 201, [['findings.tolerance', 'too_large', '200']]],
    ['a part of an hour', 'findings.rateHours', 1.5, [['findings.rateHours', 'not_whole', '']]],
    [
      'a finding that is fixed',
      'findings.severities.nothing',
      'note',
      [['findings.severities.nothing', 'unknown_key', '']],
    ],
    [
      'a procedure that breaks a rule',
      'procedures',
      [{ ...own, title: 'Ask for the name', fluid: 'oralFluid' }],
      [['procedures.0.fluid', 'wrong_direction', 'oralFluid']],
    ],
    ['a procedure twice', 'procedures', [own, own], [['procedures.1.id', 'twice', 'urinal']]],
    ['a newer file', 'schema', 2, [['', 'newer', '']]],
  ])('%s', (_, path, value, faults) => {
    expect(faultsOf(path, value)).toEqual(faults);
  });

  it('says the line of each fault, in order, and uses nothing', () => {
    const lines = unitText(defaultUnit).split('\n');
    const [bed, ear] = ['"label": "Bed 3"', '"ear":'].map((part) =>
      lines.findIndex((line) => line.includes(part)),
    ) as [number, number];
    lines[bed] = '      "label": "",';
    lines[ear] = '  "ear": "far",';
    expect(readUnit(lines.join('\n'))).toEqual({
      ok: false,
      faults: [
        { code: 'empty', path: 'beds.2.label', line: bed + 1, about: '' },
        expect.objectContaining({ code: 'not_allowed', path: 'ear', line: ear + 1 }),
      ],
    });
  });

  it.each([
    ['cut in the middle', unitText(defaultUnit).slice(0, 200), 'not_json'],
    ['empty', '', 'not_json'],
    ['a list', '[]', 'wrong_type'],
    ['a key twice', '{"schema": 1,\n"schema": 1}', 'repeated_key'],
    ['endless', ' '.repeat(2_000_001), 'file_too_long'],
  ])('%s', (_, text, code) => {
    const read = readUnit(text);
    expect(read.ok ? [] : read.faults.map((fault) => fault.code)).toContain(code);
  });

  it('never throws, whatever the data', () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        expect(readUnit(text).ok).toBe(false);
      }),
      { numRuns: 300 },
    );
  });

  it('has a sentence for every fault', () => {
    for (const code of Object.keys(words.faults)) {
      expect(faultText(code, 'x')).toMatch(/^[A-Z“].*\.$/);
    }
    expect(faultText('tap_not_wiped', '')).toContain('tap');
  });
});

describe('When the settings of this device are read at the start', () => {
  it('nothing kept: the defaults, and no error', () => {
    expect(keptUnit(undefined)).toEqual({ unit: defaultUnit, error: null });
  });

  it.each([[null], ['x'], [{}], [changed({ plan: undefined })]])(
    'broken (%#): the defaults, and the error says so',
    (data) => {
      expect(keptUnit(data)).toEqual({ unit: defaultUnit, error: 'unit_broken' });
    },
  );

  it('a procedure that the rules refuse is left out; the rest is kept', () => {
    const kept = keptUnit(
      changed({
        name: 'North',
        procedures: [
          { ...own, fluid: 'oralFluid' },
          { ...own, id: 'bottle', spoken: ['bottle'] },
        ],
      }),
    );
    expect(kept.error).toBe('procedure_broken');
    expect(kept.unit.name).toBe('North');
    expect(kept.unit.procedures.map(({ id }) => id)).toEqual(['bottle']);
  });
});

describe('When a unit takes in a procedure of its own', () => {
  it('stands in for ours of the same id, once', () => {
    const first = addOwn([], urinal);
    expect(first).toMatchObject({ ok: true, procedure: { id: 'urinal' } });
    const again = addOwn(first.ok ? first.own : [], urinal);
    expect(again).toMatchObject({ ok: true, own: [{ id: 'urinal' }] });
  });

  it('is refused line by line', () => {
    const lines = urinal.split('\n');
    const at = lines.findIndex((line) => line.includes('"fluid"'));
    lines[at] = '  "fluid": "oralFluid",';
    expect(addOwn([], lines.join('\n'))).toMatchObject({
      ok: false,
      faults: [{ code: 'wrong_direction', line: at + 1 }],
    });
  });

  it('is refused when its spoken name is taken', () => {
    const other = urinal.replace('"id": "urinal"', '"id": "bottle"');
    expect(addOwn([], other)).toMatchObject({
      ok: false,
      faults: expect.arrayContaining([expect.objectContaining({ code: 'name_taken' })]) as unknown,
    });
  });
});

describe('When findings are set', () => {
  it('each has a title and a source', () => {
    for (const code of findingCodes) {
      expect(words.findings.titles[code]).not.toBe('');
      expect(findingWords[code].source).not.toBe('');
    }
  });

  it('each limit of the schema has its words', () => {
    const { severities, ...limits }: Unit['findings'] = defaultUnit.findings;
    expect(severities).toEqual({});
    expect(Object.keys(words.findings.limits).sort()).toEqual(Object.keys(limits).sort());
  });
});
