/** Random bytes that {@link uuidBytes} takes. */
export const uuidRandomBytes = 10;

/**
 * A UUID of version 7 as 16 bytes: the time first, so that ids sort by it.
 *
 * @param ms - ms since the Unix epoch, 0 to 2^48 - 1
 * @param random - {@link uuidRandomBytes} fresh random bytes; 74 of their 80 bits are used
 * @throws {RangeError} `uuid_time`, `uuid_random`
 * @see RFC 9562, section 5.7
 */
export function uuidBytes(ms: number, random: Uint8Array): Uint8Array {
  if (!Number.isSafeInteger(ms) || ms < 0 || ms >= 2 ** 48) {
    throw new RangeError(`uuid_time: expected whole ms from 0 to 2^48 - 1, got ${ms}`);
  }
  if (random.length < uuidRandomBytes) {
    throw new RangeError(
      `uuid_random: expected ${uuidRandomBytes} random bytes, got ${random.length}`,
    );
  }
  const bytes = new Uint8Array(16);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, Math.floor(ms / 2 ** 32));
  view.setUint32(2, ms % 2 ** 32);
  bytes.set(random.subarray(0, uuidRandomBytes), 6);
  view.setUint8(6, 0x70 | (view.getUint8(6) & 0x0f));
  view.setUint8(8, 0x80 | (view.getUint8(8) & 0x3f));
  return bytes;
}

const hexOf = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, '0'));

/** Bytes as small hex letters, two a byte. */
export function hex(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += hexOf[byte] ?? '';
  return text;
}

/** {@link uuidBytes} as text: `0193…-7…-8…`. */
export function uuid(ms: number, random: Uint8Array): string {
  const text = hex(uuidBytes(ms, random));
  return [
    text.slice(0, 8),
    text.slice(8, 12),
    text.slice(12, 16),
    text.slice(16, 20),
    text.slice(20),
  ].join('-');
}

const shape = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

/** True for a UUID of any version in its canonical form, small letters. */
export function isUuid(text: string): boolean {
  return shape.test(text);
}

/**
 * The id that belongs to the n-th part of what bears an id: the same each time it is asked for, so that
 * what is written again is known again.
 *
 * @param of - a UUID
 * @param n - 0 to 2^31 - 1
 * @throws {RangeError} `uuid_sibling`
 */
export function siblingUuid(of: string, n: number): string {
  if (!isUuid(of) || !Number.isInteger(n) || n < 0 || n >= 2 ** 31) {
    throw new RangeError(`uuid_sibling: expected a UUID and a small whole number, got ${of}, ${n}`);
  }
  const own = Number.parseInt(of.slice(-8), 16);
  return `${of.slice(0, -8)}${((own ^ (n + 1)) >>> 0).toString(16).padStart(8, '0')}`;
}
