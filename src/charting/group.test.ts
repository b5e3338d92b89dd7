import { describe, expect, test } from 'vitest';
import {
  aide,
  at,
  draftFact,
  newId,
  nurse,
  ordersOf,
  Pen,
  storyStart,
} from '../../tests/support/ledgerStory.ts';
import { foldAlert } from './alert.ts';
import type { LedgerEvent } from './events.ts';
import { groupOf, indexOf } from './group.ts';
import { strictRules } from './reviewRules.ts';
import { foldWalk } from './walkRecord.ts';

const index = (...events: readonly LedgerEvent[]) => indexOf(events, strictRules);

describe('When a group is indexed', () => {
  test('an entry stands at its reading and its bed, and waits until it is decided', async () => {
    const pen = new Pen();
    const draft = await pen.write(aide, draftFact({ readAt: at(storyStart - 5_000) }));
    const group = draft.entry;
    const row = { group, kind: 'entry', bed: 'Bed 4', ms: storyStart - 5_000, open: 1 };
    expect(index(draft)).toEqual(row);
    const saw = draft.id;
    const decision = await pen.write(nurse, { type: 'entry.confirmed', entry: group, saw });
    expect(index(decision, draft)).toEqual({ ...row, open: 0 });
  });

  test('an entry without a time stands where it was recorded', async () => {
    const draft = await new Pen().write(aide, draftFact({ readAt: null, bed: null }));
    expect(index(draft)).toMatchObject({ ms: draft.at.ms, bed: '', open: 1 });
  });

  test('a decision before its draft has a place, and does not wait', async () => {
    const entry = newId();
    const saw = newId();
    const event = await new Pen().write(nurse, { type: 'entry.confirmed', entry, saw });
    expect(index(event)).toEqual({
      group: entry,
      kind: 'entry',
      bed: '',
      ms: event.at.ms,
      open: 0,
    });
  });

  test('a walk and an alert wait for their ends', async () => {
    const pen = new Pen();
    const id = newId();
    const started = await pen.write(aide, {
      type: 'walk.started',
      walk: id,
      procedure: 'drainage-bag',
      bed: 'Bed 4',
    });
    const ended = await pen.write(aide, {
      type: 'walk.ended',
      walk: id,
      outcome: 'completed',
      reason: '',
    });
    expect(index(started)).toMatchObject({ kind: 'walk', bed: 'Bed 4', open: 1 });
    expect(index(started, ended)).toMatchObject({ open: 0, ms: started.at.ms });
    expect(index(ended)).toMatchObject({ kind: 'walk', open: 0 });
    const raised = await pen.write(aide, {
      type: 'alert.raised',
      alert: id,
      code: 'pain',
      words: 'w',
      bed: null,
      walk: null,
      entry: null,
    });
    const taken = await pen.write(nurse, { type: 'alert.taken', alert: id, note: '' });
    expect(index(raised)).toMatchObject({ kind: 'alert', bed: '', open: 1 });
    expect(index(taken, raised)).toMatchObject({ open: 0 });
    expect(index(taken)).toMatchObject({ kind: 'alert', open: 0 });
  });

  test('a look stands alone', async () => {
    const look = await new Pen().write(nurse, { type: 'page.viewed', page: 'sheet', bed: 'Bed 4' });
    expect(groupOf(look)).toBe(look.id);
    expect(index(look)).toMatchObject({ kind: 'note', bed: 'Bed 4', open: 0 });
    const lock = await new Pen().write(nurse, { type: 'lock.noted', what: 'locked' });
    expect(index(lock)).toMatchObject({ kind: 'note', bed: '' });
  });

  test('an empty group is our own bug', () => {
    expect(() => index()).toThrow('group_empty');
  });
});

describe('When alerts and walks are folded', () => {
  test('the first nurse who takes it has it; the others are told, in any order', async () => {
    const pen = new Pen();
    const alert = newId();
    const raised = await pen.write(aide, {
      type: 'alert.raised',
      alert,
      code: 'pain',
      words: 'w',
      bed: null,
      walk: null,
      entry: null,
    });
    const byAide = await pen.write(aide, { type: 'alert.taken', alert, note: '' });
    const first = await pen.write(nurse, { type: 'alert.taken', alert, note: 'seen' });
    const second = await pen.write(nurse, { type: 'alert.taken', alert, note: '' });
    for (const events of ordersOf<LedgerEvent>([raised, byAide, first, second])) {
      expect(foldAlert(events)).toMatchObject({
        id: alert,
        taken: { id: first.id },
        refused: [
          { code: 'role_forbids', event: { id: byAide.id } },
          { code: 'decided_already', because: first.id, event: { id: second.id } },
        ],
      });
    }
    expect(foldAlert([first])).toBeNull();
    expect(foldAlert([{ ...raised, v: 9 }])).toBeNull();
  });

  test('the first end of a walk stands', async () => {
    const pen = new Pen();
    const walk = newId();
    const started = await pen.write(aide, {
      type: 'walk.started',
      walk,
      procedure: 'drainage-bag',
      bed: null,
    });
    const end = (outcome: 'completed' | 'abandoned') =>
      pen.write(aide, { type: 'walk.ended', walk, outcome, reason: '' });
    const first = await end('abandoned');
    const second = await end('completed');
    expect(foldWalk([second, first, started])).toEqual({ id: walk, started, ended: first });
    expect(foldWalk([first])).toBeNull();
  });
});
