import { describe, expect, test } from 'vitest';
import {
  acts,
  entryStates,
  stateAfter,
  stateAfterUndo,
  statusOf,
  waitsIn,
  type Act,
  type EntryState,
} from './status.ts';

const none = null;
const table: readonly [EntryState, Act, after: EntryState | null, undone: EntryState | null][] = [
  ['preliminary', 'confirm', 'final', 'reopened'],
  ['preliminary', 'amend', 'preliminary', 'preliminary'],
  ['preliminary', 'strike', 'entered-in-error', 'preliminary'],
  ['final', 'confirm', none, none],
  ['final', 'amend', 'amended', 'amended'],
  ['final', 'strike', 'entered-in-error', 'amended'],
  ['amended', 'confirm', none, none],
  ['amended', 'amend', 'amended', 'amended'],
  ['amended', 'strike', 'entered-in-error', 'amended'],
  ['reopened', 'confirm', 'amended', 'reopened'],
  ['reopened', 'amend', 'reopened', 'reopened'],
  ['reopened', 'strike', 'entered-in-error', 'reopened'],
  ['entered-in-error', 'confirm', none, none],
  ['entered-in-error', 'amend', none, none],
  ['entered-in-error', 'strike', none, none],
];

describe('When an act meets a state', () => {
  test.each(table)('%s, %s: %s; taken back: %s', (state, act, after, undone) => {
    expect(stateAfter(state, act)).toBe(after);
    expect(stateAfterUndo(state, act)).toBe(undone);
  });

  test('the table above names every pair once', () => {
    const pairs = new Set(table.map(([state, act]) => `${state} ${act}`));
    expect(pairs.size).toBe(table.length);
    expect(table).toHaveLength(entryStates.length * acts.length);
  });
});

describe('When an entry was final once', () => {
  test('no chain of acts and undoing makes it preliminary or final again', () => {
    const seen = new Set<EntryState>();
    const look = (state: EntryState): void => {
      if (seen.has(state)) return;
      seen.add(state);
      for (const act of acts) {
        const after = stateAfter(state, act);
        // An entry that is struck at once goes back to where it was, which is looked at already.
        for (const next of [after, after && stateAfterUndo(state, act)]) if (next) look(next);
      }
    };
    for (const next of [stateAfter('final', 'amend'), stateAfterUndo('preliminary', 'confirm')]) {
      if (next) look(next);
    }
    expect([...seen].map(statusOf)).not.toContain('preliminary');
    expect([...seen].map(statusOf)).not.toContain('final');
    expect([...seen].sort()).toEqual(['amended', 'entered-in-error', 'reopened']);
  });

  test('only what no reviewer stands behind waits', () => {
    expect(entryStates.filter(waitsIn)).toEqual(['preliminary', 'reopened']);
  });
});
