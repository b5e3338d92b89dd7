import { describe, expect, test } from 'vitest';
import { grammarFiles } from '../../tests/support/grammarFiles.ts';
import type { Serving } from '../measure/intake.ts';
import { defaultServings } from '../measure/servings.ts';
import { millilitres } from '../measure/volume.ts';
import { createInterpreter } from './interpreter.ts';
import { filesWithServings, unsayable } from './ownServings.ts';

const files = grammarFiles();
const interpreter = createInterpreter(files);
const known = defaultServings.map(({ item }) => item);
const serving = (id: string, label: string): Serving => ({
  id,
  label,
  size: millilitres(300),
  kind: 'fluid',
});
const own = [
  ...known,
  serving('a', 'Iced tea, tall glass'),
  serving('b', 'Orange juice'),
  serving('c', 'Crème caramel or custard, small bowl'),
  serving('d', 'Milk, beaker'),
  serving('e', 'Vitamin B12 drink'),
];
const understood = (said: string, servings: readonly Serving[] = own) =>
  interpreter.understand(said, { state: 'tray', servings });

describe('When a unit serves what the grammar does not know', () => {
  test.each([
    ['iced tea, half', 'a', { drunk: 'half' }],
    ['half the iced tea', 'a', { drunk: 'half' }],
    ['tall glass of iced tea, all', 'a', { drunk: 'all' }],
    ['iced tea tall glass a quarter', 'a', { drunk: 'quarter' }],
    ['iced tea, forty left', 'a', { left: 40 }],
    ['creme caramel none', 'c', { drunk: 'none' }],
    ['two thirds of the custard', 'c', { drunk: 'twoThirds' }],
    ['beaker of milk, all', 'd', { drunk: 'all' }],
  ])('“%s” is the serving %s', (said, id, part) => {
    expect(understood(said)).toEqual({ kind: 'item', value: { serving: id, ...part } });
  });

  test('its own name comes before what the grammar means by it', () => {
    expect(understood('orange juice half')).toMatchObject({ value: { serving: 'b' } });
    expect(understood('orange juice half', known)).toMatchObject({ value: { serving: 'juice' } });
  });

  test('the servings that were known, the commands and the alarms are still understood', () => {
    expect(understood('coffee, forty left')).toMatchObject({ value: { serving: 'coffee' } });
    expect(understood('next step')).toEqual({ kind: 'command', command: 'next' });
    expect(understood('that is all')).toEqual({ kind: 'command', command: 'noMore' });
    expect(understood('report blood')).toEqual({ kind: 'alert', value: 'blood' });
  });

  test.each(['iced tea', 'would you like some iced tea', 'iced tea for you'])(
    '“%s” names no part and is talk',
    (said) => {
      expect(understood(said).kind).toBe('talk');
    },
  );

  test('a unit without it takes the words for talk', () => {
    expect(understood('iced tea, half', known).kind).toBe('talk');
  });

  test('a name that two servings have is never guessed', () => {
    expect(understood('milk, half')).toEqual({
      kind: 'item',
      value: { serving: '', drunk: 'half' },
    });
  });

  test('what can not be said is told: figures in the name, or no name of its own', () => {
    const twins = [serving('f', 'Shake'), serving('g', 'Shake,')];
    expect(unsayable([...own, ...twins]).map(({ id }) => id)).toEqual(['e', 'f', 'g']);
    expect(unsayable(known)).toEqual([]);
  });
});

describe('When an ear listens at a tray', () => {
  test('it listens for the unit’s own names, and each word of them is in its list', () => {
    const { jsgf, words } = interpreter.earGrammar({ state: 'tray', servings: own });
    expect(jsgf).toMatch(/<intake_own> = .*iced tea/);
    expect(words).toEqual(expect.arrayContaining(['iced', 'tea', 'creme', 'caramel', 'beaker']));
  });

  test('the list as delivered needs nothing of its own', () => {
    const { jsgf } = interpreter.earGrammar({ state: 'tray', servings: known });
    expect(jsgf).not.toContain('intake_own');
    expect(filesWithServings(files, known, ['intake.item'])).toBeNull();
  });

  test('only the files that a tray needs are read', () => {
    const needed = filesWithServings(files, own, ['commands.atStep', 'intake.item']) ?? {};
    expect(Object.keys(needed)).toContain('commands.gram');
    expect(Object.keys(needed)).not.toContain('recall.gram');
  });
});
