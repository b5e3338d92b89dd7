import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isSorted, sortByColumn, sortedBack, type Table } from './columns.ts';

const column = fc.record({ bytes: fc.constantFrom(1, 2, 4), fromAbove: fc.boolean() });
const table: fc.Arbitrary<Table> = fc.record({
  rows: fc.nat(9),
  columns: fc.array(column, { maxLength: 4 }),
});
const lengthOf = (tables: readonly Table[]): number =>
  tables.reduce((sum, { rows, columns }) => {
    return sum + rows * columns.reduce((width, { bytes }) => width + bytes, 0);
  }, 0);

describe('When a file is sorted by its columns', () => {
  it('it comes back byte by byte, with what follows its tables', () => {
    fc.assert(
      fc.property(
        fc.array(table, { maxLength: 4 }),
        fc.uint8Array(),
        fc.nat(),
        (tables, end, seed) => {
          const body = Uint8Array.from(
            { length: lengthOf(tables) },
            (_, at) => (at + 1) * (seed + 3),
          );
          const file = Uint8Array.from([...body, ...end]);
          const sorted = sortByColumn(file, tables);
          expect(isSorted(sorted)).toBe(true);
          expect(sortedBack(sorted)).toEqual(file);
        },
      ),
    );
  });

  it('first bytes stand together, then second ones, each as far from the one above as it is', () => {
    const file = Uint8Array.of(10, 1, 12, 1, 11, 2, 99);
    const columns = [
      { bytes: 1, fromAbove: true },
      { bytes: 1, fromAbove: false },
    ] as const;
    const sorted = sortByColumn(file, [{ rows: 3, columns }]);
    expect([...sorted.slice(-7)]).toEqual([10, 2, 255, 1, 1, 2, 99]);
  });

  it('a file that is too short for its tables is refused, and one of another kind is told apart', () => {
    const tables = [{ rows: 3, columns: [{ bytes: 4, fromAbove: false }] }] as const;
    expect(() => sortByColumn(new Uint8Array(11), tables)).toThrow('columns_short');
    const sorted = sortByColumn(new Uint8Array(12), tables);
    expect(() => sortedBack(sorted.subarray(0, -1))).toThrow('columns_short');
    expect(isSorted(new Uint8Array(12))).toBe(false);
  });
});
