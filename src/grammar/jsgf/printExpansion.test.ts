import { expect, test } from 'vitest';
import type { Expansion } from './grammar.ts';
import { printExpansion } from './printExpansion.ts';

const rule = (name: string): Expansion => ({ type: 'rule', name, line: 1 });
const optional = (...parts: Expansion[]): Expansion => ({
  type: 'optional',
  body: { type: 'sequence', parts },
});
const print = (body: Expansion): string | null => printExpansion(body, (name) => name);

test('A part that may come again up to a depth is one loop for an ear', () => {
  const further = rule('further');
  expect(print(optional(further))).toBe('[ <further> ]');
  expect(print(optional(further, optional(further)))).toBe('( <further> )*');
  expect(print(optional(further, optional(further, optional(further))))).toBe('( <further> )*');
});

test('Different parts within each other stay as they are', () => {
  const inner = optional(rule('shade'));
  expect(print(optional(rule('depth'), inner))).toBe('[ <depth> [ <shade> ] ]');
  expect(print(optional(rule('a'), rule('b'), optional(rule('b'))))).toBe('[ <a> <b> [ <b> ] ]');
});
