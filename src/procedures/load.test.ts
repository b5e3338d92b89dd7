import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { procedureFaults } from '../words/en-US/procedureFaults.ts';
import { builtIn } from './builtIn.ts';
import type { FaultCode } from './fault.ts';
import { loadProcedure, longestFile, procedureOf } from './load.ts';
import type { Mark } from './marks.ts';
import type { Procedure, Step } from './schema.ts';

const folder = join(import.meta.dirname, 'en-US');
const textOf = (id: string): string => readFileSync(join(folder, `${id}.json`), 'utf8');

type Draft = {
  -readonly [Key in keyof Procedure]: Procedure[Key];
};
type Break = (draft: Draft) => void;

const at = (draft: Draft, id: string): number => draft.steps.findIndex((step) => step.id === id);
const step = (draft: Draft, id: string): Step => {
  const found = draft.steps.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no step ${id}`);
  return found;
};
const without =
  (id: string): Break =>
  (draft) => {
    draft.steps = draft.steps.filter((each) => each.id !== id);
    draft.variants = [];
  };
const swap =
  (one: string, other: string): Break =>
  ({ steps, ...rest }) => {
    const draft = { steps, ...rest };
    const [i, j] = [at(draft, one), at(draft, other)];
    [steps[i], steps[j]] = [steps[j]!, steps[i]!];
  };
const unmark =
  (id: string, mark: Mark): Break =>
  (draft) => {
    const found = step(draft, id);
    found.marks = found.marks.filter((each) => each !== mark);
  };
const say =
  (id: string, call: string): Break =>
  (draft) => {
    step(draft, id).call = call;
  };

/** One thing broken at a time, and the fault that it must be refused for. */
const broken: [FaultCode, string, string, Break][] = [
  ['repeated_step', 'two steps of one id', 'drainage-bag', (d) => void (step(d, 'dry').id = 'rinse')],
  ['unknown_source', 'a source that is not listed', 'drainage-bag', (d) => void step(d, 'dry').sources.push('hearsay')],
  ['unused_source', 'a source that nothing names', 'drainage-bag', (d) => void (d.sources.extra = { title: 'Extra', grade: 'M' })],
  ['no_source', 'a step without a source', 'drainage-bag', (d) => void (step(d, 'barrier').sources = [])],
  ['no_keywords', 'a step that can not be named', 'drainage-bag', (d) => void (step(d, 'barrier').keywords = [])],
  ['variant_unknown_step', 'a variant of a missing step', 'drainage-bag', (d) => void (d.variants[0]!.move = [{ step: 'dance', before: 'read' }])],
  ['variant_repeated', 'a variant twice', 'drainage-bag', (d) => void d.variants.push(d.variants[0]!)],
  ['variant_is_default', 'a variant of the default', 'drainage-bag', (d) => void d.variants.push({ setting: 'rounding', is: 'nearest', source: 'nnaap' })],
  ['otherwise_itself', 'a check that leads back to itself', 'weighed-pad', (d) => void (step(d, 'soil-check').otherwise = 'weighed-pad')],
  ['critical_unreachable', 'a critical step that some settings leave out', 'drainage-bag', (d) => void (step(d, 'own-container').only = { setting: 'rounding', is: 'up' })],
  ['critical_unreachable', 'a critical step under a setting that does not exist', 'drainage-bag', (d) => void (step(d, 'gloves-on').only = { setting: 'record', is: 'never' })],
  ['no_first_hand_hygiene', 'hands not cleaned first', 'drainage-bag', without('clean-hands')],
  ['no_last_hand_hygiene', 'hands not washed last', 'drainage-bag', without('wash-hands')],
  ['hands_not_washed_after_gloves', 'something between gloves off and washing', 'emesis', swap('wash-hands', 'tell')],
  ['gloves_never_on', 'gloved without gloves', 'drainage-bag', without('gloves-on')],
  ['gloves_never_off', 'gloves that stay on', 'drainage-bag', without('gloves-off')],
  ['gloved_outside_gloves', 'gloved before gloves are on', 'drainage-bag', (d) => void (step(d, 'explain').gloved = true)],
  ['bare_inside_gloves', 'bare between gloves on and off', 'drainage-bag', (d) => void (step(d, 'flat').gloved = false)],
  ['fluid_without_gloves', 'a tap opened before gloves', 'drainage-bag', swap('gloves-on', 'open-tap')],
  ['touch_while_gloved', 'a touch asked for while gloved', 'drainage-bag', say('read', 'Read the line, and type it on the screen.')],
  ['document_before_hands_washed', 'recorded before washing', 'drainage-bag', swap('document', 'wash-hands')],
  ['no_document', 'nothing recorded', 'drainage-bag', without('document')],
  ['tap_left_open', 'a tap that is never closed', 'drainage-bag', without('close-tap')],
  ['tap_closed_before_opened', 'closed before opened', 'drainage-bag', swap('open-tap', 'close-tap')],
  ['tap_not_wiped', 'a tap that is never wiped', 'drainage-bag', without('wipe-tap')],
  ['wiped_before_closed', 'wiped before closed', 'drainage-bag', swap('close-tap', 'wipe-tap')],
  ['tap_not_returned', 'a tap left hanging', 'leg-bag', without('holder')],
  ['returned_before_wiped', 'returned before wiped', 'drainage-bag', swap('wipe-tap', 'holder')],
  ['bag_point_missing', 'kinks not looked for', 'drainage-bag', unmark('line-check', 'noKinks')],
  ['bag_point_missing', 'a tip that may touch', 'leg-bag', unmark('open-tap', 'tipTouchesNothing')],
  ['no_measuring', 'nothing read', 'drainage-bag', without('read')],
  ['no_measuring', 'an episode that is not counted', 'unmeasured-episode', without('count')],
  ['measured_twice', 'read twice', 'drainage-bag', (d) => void (step(d, 'look').kind = 'reading')],
  ['unmeasured_has_amount', 'an amount for an unmeasured episode', 'unmeasured-episode', (d) => void (step(d, 'look').kind = 'reading')],
  ['no_flat_surface', 'read before it stands flat', 'drainage-bag', swap('flat', 'read')],
  ['no_eye_level', 'not read at eye level', 'drainage-bag', unmark('read', 'eyeLevel')],
  ['poured_before_reading', 'poured away first', 'urinal', swap('pour', 'read')],
  ['rinse_enters_measure', 'rinsed before the reading', 'urinal', swap('rinse', 'hand-wipe')],
  ['no_container_named', 'no container to read', 'urinal', (d) => void (d.containers = [])],
  ['own_container_unchecked', "anybody's container", 'urinal', unmark('own-container', 'ownContainer')],
  ['soil_unchecked', 'weighed without a look for stool', 'weighed-pad', without('soil-check')],
  ['scale_not_zeroed', 'weighed on an unset scale', 'weighed-pad', unmark('zero', 'zeroScale')],
  ['wrong_direction', 'intake charted as output', 'oral-intake', (d) => void (d.fluid = 'emesis')],
  ['forbidden_act', 'a tube taken apart', 'drainage-bag', say('barrier', 'Disconnect the tube from the bag.')],
  ['forbidden_act', 'a clamp', 'drainage-bag', say('barrier', 'Clamp the tube.')],
  ['forbidden_act', 'irrigation', 'drainage-bag', say('barrier', 'Irrigate the catheter.')],
  ['forbidden_act', 'a sample from the bag', 'drainage-bag', say('look', 'Take a sample for the laboratory.')],
  ['call_too_long', 'a long call', 'drainage-bag', say('dry', `Dry it ${'very '.repeat(14)}well.`)],
  ['call_many_sentences', 'two calls in one', 'drainage-bag', say('dry', 'Dry it. Put it away.')],
  ['unsafe_unit', 'cc', 'drainage-bag', (d) => void (step(d, 'read').why = ['Within 25', 'cc.'].join(' '))],
  ['judging_word', 'a judgement', 'drainage-bag', say('look', 'Say whether the urine looks normal.')],
  ['asks_name', 'a name', 'drainage-bag', say('explain', "Say the resident's name.")],
  ['licensed_uncautioned', 'a drain without its caution', 'drainage-bag', (d) => { d.title = 'Empty a wound drain'; delete d.caution; }],
]; // prettier-ignore

describe('When a procedure file breaks one rule', () => {
  it.each(broken)('%s: %s', (code, _, id, breakIt) => {
    const draft = JSON.parse(textOf(id)) as Draft;
    expect(procedureOf(structuredClone(draft)).ok).toBe(true);
    breakIt(draft);
    const loaded = loadProcedure(JSON.stringify(draft, null, 2));
    if (loaded.ok) throw new Error('was taken');
    expect(loaded.faults.map((each) => each.code)).toContain(code);
    for (const each of loaded.faults) {
      expect(each.line).toBeGreaterThan(0);
      expect(procedureFaults[each.code](each.about)).toMatch(/^[A-Z"].{15,}[.?!:]/s);
    }
  });

  it('has a broken file for every rule, and twenty at least', () => {
    const rules = new Set(broken.map(([code]) => code));
    const form: string[] = ['not_json', 'repeated_key', 'wrong_form'];
    const among: string[] = ['name_taken', 'otherwise_unknown'];
    expect([...rules, ...form, ...among].sort()).toEqual(Object.keys(procedureFaults).sort());
    expect(rules.size).toBeGreaterThanOrEqual(20);
  });
});

describe('When a file is not of the form', () => {
  const text = textOf('drainage-bag');
  const lineOf = (needle: string): number => text.slice(0, text.indexOf(needle)).split('\n').length;

  it.each([
    ['nothing', '', 1],
    ['words', 'hello', 1],
    ['cut in the middle', text.slice(0, text.indexOf('"wipe-tap"') + 10), lineOf('"wipe-tap"')],
    ['a missing comma', text.replace('"kind": "reading",', '"kind": "reading"'), lineOf('"kind": "reading",') + 1],
    ['a comma too many', text.replace('"spoken": [', '"spoken": [,'), lineOf('"spoken"')],
    ['two files in one', text + text, text.split('\n').length],
    ['depth without end', '['.repeat(5_000), 1],
  ])('%s is not JSON, and the line is named', (_, bad, line) => {
    expect(loadProcedure(bad)).toEqual({
      ok: false,
      faults: [{ code: 'not_json', path: '', line, about: '' }],
    });
  }); // prettier-ignore

  it('a key that stands twice is named with its line', () => {
    const twice = text.replace(
      '"id": "close-tap",',
      '"id": "close-tap",\n      "id": "close-tap",',
    );
    const loaded = loadProcedure(twice);
    expect(loaded).toMatchObject({
      ok: false,
      faults: [{ code: 'repeated_key', line: lineOf('"id": "close-tap"') + 1 }],
    });
  });

  it.each([
    ['another version', '"schema": 1', '"schema": 2', 'schema'],
    ['an unknown mark', '"closeTap"', '"shutTap"', 'steps.9.marks.0'],
    ['an unknown field', '"method":', '"amount": 3, "method":', 'amount'],
    ['a kind of no step', '"kind": "reading"', '"kind": "guess"', 'steps.14.kind'],
    ['an unknown fluid', '"urineCatheter"', '"water"', 'fluid'],
    ['markup for a name', '"id": "drainage-bag"', '"id": "<b>x</b>"', 'id'],
  ])('%s is named with its place and line', (_, good, bad, path) => {
    const loaded = loadProcedure(text.replace(good, bad));
    expect(loaded).toMatchObject({
      ok: false,
      faults: [{ code: 'wrong_form', path, line: lineOf(good) }],
    });
  });

  it.each([null, 7, 'x', [], {}, { schema: 1 }, { __proto__: null, steps: 'no' }])(
    'foreign data is refused and never thrown: %j',
    (data) => {
      expect(procedureOf(data).ok).toBe(false);
    },
  );

  it('a file beyond any length is not read', () => {
    expect(loadProcedure(' '.repeat(longestFile + 1)).ok).toBe(false);
  });

  it('all faults are told, not the first alone', () => {
    const bad = text.replace('"closeTap"', '"shutTap"').replace('"urineCatheter"', '"water"');
    const loaded = loadProcedure(bad);
    expect(loaded.ok ? [] : loaded.faults.map(({ path }) => path)).toEqual([
      'fluid',
      'steps.9.marks.0',
    ]);
  });
});

describe('When the built-in procedures are loaded', () => {
  it('nine are there, each from a file of its name', () => {
    const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
    expect(builtIn.map(({ id }) => `${id}.json`).sort()).toEqual(files.sort());
    expect(builtIn).toHaveLength(9);
    for (const procedure of builtIn) {
      expect(loadProcedure(textOf(procedure.id))).toEqual({ ok: true, procedure });
    }
  });

  it('no two answer to one name', () => {
    const spoken = builtIn.flatMap((each) => each.spoken);
    expect(new Set(spoken).size).toBe(spoken.length);
  });
});
