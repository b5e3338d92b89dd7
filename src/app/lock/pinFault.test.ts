import { describe, expect, test } from 'vitest';
import { shortestPin } from '../../storage/vault/vault.ts';
import { pinFault } from './pinFault.ts';

describe('When a new PIN is typed', () => {
  test.each([
    ['pin', '480271', null],
    ['pin', '48027', 'short'],
    ['pin', '4802711480271', 'figures'],
    ['pin', '48027a', 'figures'],
    ['pin', '111111', 'easy'],
    ['pin', '123456', 'easy'],
    ['pin', '567890', 'easy'],
    ['pin', '987654', 'easy'],
    ['pin', '121212', 'easy'],
    ['pin', '123123', 'easy'],
    ['unit', 'blue kettle', null],
    ['unit', 'kettl', 'short'],
    ['unit', 'abcdef', 'easy'],
  ] as const)('%s %s: %s', (kind, pin, fault) => {
    expect(pinFault(kind, pin, pin)).toBe(fault);
  });

  test('typed twice it is the same, or it is not taken', () => {
    expect(pinFault('pin', '480271', '480217')).toBe('different');
  });

  test('the shortest is the vault’s own', () => {
    expect(pinFault('unit', '4'.repeat(shortestPin - 1), '')).toBe('short');
    expect(pinFault('unit', 'kettle'.slice(0, shortestPin), '')).not.toBe('short');
  });
});
