import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { IntTable } from './IntTable.ts';

describe('When a table of numbers is filled', () => {
  it('says of every key what a map would say', () => {
    const entries = fc.uniqueArray(fc.tuple(fc.nat({ max: 2 ** 31 - 2 }), fc.nat()), {
      selector: ([key]) => key,
      maxLength: 2000,
    });
    fc.assert(
      fc.property(entries, fc.nat({ max: 2 ** 31 - 2 }), (each, other) => {
        const table = new IntTable(1 << 15);
        const map = new Map(each);
        for (const [key, value] of each) table.add(key, value);
        for (const key of [...map.keys(), other]) expect(table.get(key)).toBe(map.get(key) ?? -1);
      }),
      { numRuns: 50 },
    );
  });

  it('takes no more than twice what it is made for, and forgets what it is told to', () => {
    const table = new IntTable(100);
    for (let key = 0; key < 1000; key++) table.add(key, key);
    expect(table.isFull).toBe(true);
    expect([table.get(199), table.get(200)]).toEqual([199, -1]);
    table.clear();
    expect([table.isFull, table.get(5)]).toEqual([false, -1]);
  });
});
