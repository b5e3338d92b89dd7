import { createCipheriv } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { hex, isUuid, siblingUuid, uuid, uuidBytes, uuidRandomBytes } from './uuid.ts';

const random = fc.uint8Array({ minLength: uuidRandomBytes, maxLength: uuidRandomBytes });
const time = fc.integer({ min: 0, max: 2 ** 48 - 1 });

describe('When an id is made', () => {
  test('it is the example of RFC 9562, appendix A.6', () => {
    // Time 2022-02-22T19:22:22Z as ms, rand_a CC3, rand_b 18C4DC0C0C07398F.
    const bytes = [0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f];
    expect(uuid(0x017f22e279b0, Uint8Array.from(bytes))).toBe(
      '017f22e2-79b0-7cc3-98c4-dc0c0c07398f',
    );
  });

  test('it is a UUID, whatever the time and the bytes', () => {
    fc.assert(fc.property(time, random, (ms, bytes) => isUuid(uuid(ms, bytes))));
  });

  test('a later one sorts behind an earlier one', () => {
    fc.assert(
      fc.property(time, time, random, random, (one, other, a, b) => {
        fc.pre(one !== other);
        const texts = [uuid(one, a), uuid(other, b)].sort();
        expect(texts[0]).toBe(one < other ? uuid(one, a) : uuid(other, b));
      }),
    );
  });

  test('74 random bits are kept', () => {
    const ones = new Uint8Array(uuidRandomBytes).fill(255);
    const bits = [...uuidBytes(0, ones)].map((byte) => byte.toString(2).replaceAll('0', '').length);
    // 6 fixed bits: version 0111 and variant 10 have four ones of their own.
    expect(bits.reduce((sum, count) => sum + count, 0)).toBe(74 + 4);
  });

  test.each([-1, 0.5, NaN, 2 ** 48])('%d is no time', (ms) => {
    expect(() => uuid(ms, new Uint8Array(uuidRandomBytes))).toThrow('uuid_time');
  });

  test('too few random bytes are our own bug', () => {
    expect(() => uuid(0, new Uint8Array(uuidRandomBytes - 1))).toThrow('uuid_random');
  });
});

describe('When many devices make ids in the same millisecond', () => {
  test('ten million are all different', { timeout: 300_000 }, () => {
    const count = 10_000_000;
    // Random bytes that are the same in each run: an AES-CTR key stream.
    const stream = createCipheriv('aes-128-ctr', Buffer.alloc(16, 7), Buffer.alloc(16));
    const random = stream.update(Buffer.alloc(count * uuidRandomBytes));
    // The last eight bytes hold 62 of the random bits; if those differ, the ids do.
    const ends = new BigUint64Array(count);
    for (let n = 0; n < count; n += 1) {
      const from = n * uuidRandomBytes;
      const id = uuidBytes(1_700_000_000_000, random.subarray(from, from + uuidRandomBytes));
      ends[n] = new DataView(id.buffer).getBigUint64(8);
    }
    ends.sort();
    let same = 0;
    for (let n = 1; n < count; n += 1) if (ends[n] === ends[n - 1]) same += 1;
    expect(same).toBe(0);
  });
});

describe('When a text is asked to be an id', () => {
  test.each([
    ['017f22e2-79b0-7cc3-98c4-dc0c0c07398f', true],
    ['017F22E2-79B0-7CC3-98C4-DC0C0C07398F', false],
    ['017f22e2-79b0-7cc3-18c4-dc0c0c07398f', false],
    [' 017f22e2-79b0-7cc3-98c4-dc0c0c07398f', false],
    ['', false],
  ])('%j: %s', (text, is) => {
    expect(isUuid(text)).toBe(is);
  });
});

test('bytes are small hex letters, two each', () => {
  expect(hex(Uint8Array.from([0, 15, 171, 255]))).toBe('000fabff');
});

describe('When a part asks for an id', () => {
  const of = uuid(1_700_000_000_000, new Uint8Array(10).fill(0xff));

  test('gets the same one each time, a UUID, and another than the whole and its other parts', () => {
    const parts = Array.from({ length: 1000 }, (_, n) => siblingUuid(of, n));
    expect(parts.every(isUuid)).toBe(true);
    expect(new Set([of, ...parts]).size).toBe(1001);
    expect(siblingUuid(of, 7)).toBe(parts[7]);
  });

  test.each([
    ['w-1', 0],
    [of, -1],
    [of, 0.5],
    [of, 2 ** 31],
  ])('%s, %s: refused', (id, n) => {
    expect(() => siblingUuid(id, n)).toThrow('uuid_sibling');
  });
});
