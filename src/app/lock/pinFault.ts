import type { Secret } from '../../storage/vault/vault.ts';

export type PinFault = 'short' | 'figures' | 'easy' | 'different';

/** What the vault takes at least; said again here, so that typing a PIN loads no vault. */
const shortest = 6;

/**
 * What is wrong with a new PIN or passcode as it was typed twice, or null.
 *
 * A run, a repeat, or a pattern of two or three figures is among the first that anybody tries.
 */
export function pinFault(kind: Secret['kind'], pin: string, again: string): PinFault | null {
  if (pin.length < shortest) return 'short';
  if (kind === 'pin' && !/^\d{6,12}$/.test(pin)) return 'figures';
  if (isRun(pin, 1) || isRun(pin, -1) || /^(.{1,3})\1+$/u.test(pin)) return 'easy';
  return pin === again ? null : 'different';
}

function isRun(pin: string, step: number): boolean {
  const codes = [...pin].map((sign) => sign.charCodeAt(0));
  // The keypad goes on from 9 to 0.
  const next = (code: number) => (step === 1 && code === 57 ? 48 : code + step);
  return codes.every((code, place) => place === 0 || code === next(codes[place - 1] ?? 0));
}
