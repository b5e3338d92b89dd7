import { beforeAll, describe, expect, test } from 'vitest';
import {
  aide,
  at,
  draftFact,
  newId,
  nurse,
  Pen,
  storyStart,
} from '../../tests/support/ledgerStory.ts';
import { millilitres } from '../measure/volume.ts';
import type { Fact, LedgerEvent } from './events.ts';
import { parseEvent } from './eventSchema.ts';

const mL = millilitres(350);
const id = newId();

const facts: readonly Fact[] = [
  draftFact({
    walk: newId(),
    evidence: {
      heard: [
        {
          ear: 'bundled',
          at: storyStart,
          alternatives: [{ transcript: 'three fifty', confidence: 0.9 }],
          fit: 'taken',
          made: mL,
        },
      ],
      readBack: 'three hundred fifty: three, five, zero. Correct?',
      answer: 'correct',
      tries: 1,
      findings: [{ code: 'sound_alike' }, { code: 'little', numbers: { hours: 8 } }],
      looks: [{ code: 'colourAmber', words: 'amber' }],
      working: { code: 'weighedPad', numbers: { wetGrams: 412, dryGrams: 62 } },
    },
  }),
  draftFact({ amount: { method: 'unmeasured', count: 1 }, kind: null, bed: null, readAt: null }),
  { type: 'entry.confirmed', entry: id, saw: newId() },
  {
    type: 'entry.amended',
    entry: id,
    saw: newId(),
    reason: 'misread',
    changes: {
      amount: { was: null, is: { method: 'estimated', mL, fills: [mL] } },
      bed: { was: null, is: 'Bed 4' },
      readAt: { was: at(1), is: at(2) },
    },
  },
  { type: 'entry.struck', entry: id, saw: newId(), reason: 'wrong bed' },
  { type: 'decision.undone', entry: id, saw: newId(), undoes: newId() },
  { type: 'entry.viewed', entry: id },
  { type: 'page.viewed', page: 'queue', bed: null },
  { type: 'alert.raised', alert: id, code: 'pain', words: 'w', bed: null, walk: null, entry: null },
  { type: 'alert.taken', alert: id, note: '' },
  { type: 'walk.started', walk: id, procedure: 'drainage-bag', bed: 'Bed 4' },
  { type: 'walk.ended', walk: id, outcome: 'abandoned', reason: 'called away' },
  { type: 'lock.noted', what: 'refused' },
  { type: 'lock.noted', what: 'refused', tries: 4, lastTry: { ms: 0, offset: -300 } },
];

describe('When an event comes from a file', () => {
  test.each(facts.map((fact) => [fact.type, fact] as const))(
    '%s is taken as it is',
    async (_, fact) => {
      const event = await new Pen().write(aide, fact);
      const parsed = parseEvent(JSON.parse(JSON.stringify(event)));
      expect(parsed).toEqual({ ok: true, event });
    },
  );

  let draft: LedgerEvent;
  beforeAll(async () => (draft = await new Pen().write(nurse, draftFact())));

  test.each<[string, Record<string, unknown>]>([
    ['type', { type: 'entry.invented' }],
    ['by.role', { by: { initials: 'XX', role: 'doctor' } }],
    ['by.initials', { by: { initials: '', role: 'aide' } }],
    ['amount.mL', { amount: { method: 'measured', mL: -5, fills: [5] } }],
    ['amount.mL', { amount: { method: 'measured', mL: 350.5, fills: [350] } }],
    ['amount', { amount: { method: 'measured', mL: 350, fills: [300] } }],
    ['amount.count', { amount: { method: 'unmeasured', count: 0 } }],
    ['amount.method', { amount: { method: 'guessed', mL: 1 } }],
    ['kind', { kind: 'constructor' }],
    ['readAt.offset', { readAt: { ms: 1, offset: 5_000 } }],
    ['at.ms', { at: { ms: -1, offset: 0 } }],
    ['id', { id: 'not an id' }],
    ['hash', { hash: 'abc' }],
    ['seq', { seq: 0 }],
    ['invented', { invented: true }],
    ['note', { note: 'x'.repeat(4_001) }],
  ])('with a wrong %s it is refused, and the field is named', (field, over) => {
    expect(parseEvent({ ...draft, ...over })).toEqual({
      ok: false,
      fault: 'event_malformed',
      field,
    });
  });

  test('one of a newer version is told apart from one that is broken', () => {
    const newer = { ...draft, v: 2, type: 'entry.invented', invented: true };
    expect(parseEvent(newer)).toEqual({ ok: false, fault: 'version_newer', field: 'v' });
  });

  test('a status is no field of an event, so an unknown one from elsewhere is refused', () => {
    expect(parseEvent({ ...draft, status: 'corrected' })).toMatchObject({ ok: false });
  });

  test.each([null, 1, 'text', [], {}])('%j is no event', (data) => {
    expect(parseEvent(data)).toMatchObject({ ok: false, fault: 'event_malformed' });
  });
});
