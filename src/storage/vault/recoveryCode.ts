/** Crockford's base 32: no I, L, O, U, so that a handwritten code is read back without doubt. */
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Random bytes as a code to write down: groups of four, `K3QD-…`; 20 bytes make eight groups. */
export function newRecoveryCode(random: Uint8Array): string {
  let bits = '';
  for (const byte of random) bits += byte.toString(2).padStart(8, '0');
  const digits = bits.match(/.{5}/g) ?? [];
  const code = digits.map((digit) => letters[parseInt(digit, 2)]).join('');
  return (code.match(/.{1,4}/g) ?? []).join('-');
}

/** A code as typed, in the form that was stretched: case, gaps and look-alikes do not matter. */
export function readRecoveryCode(typed: string): string {
  return typed
    .toUpperCase()
    .replace(/[^0-9A-Z]/g, '')
    .replace(/O/g, '0')
    .replace(/[IL]/g, '1');
}
