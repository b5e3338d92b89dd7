/** One column of a table of numbers, little end first. */
export interface Column {
  readonly bytes: 1 | 2 | 4;
  /** Whether each number is better told by how far it is from the one above it. */
  readonly fromAbove: boolean;
}

/** A stretch of a file: so many rows of the same columns. */
export interface Table {
  readonly rows: number;
  readonly columns: readonly Column[];
}

const magic = 'columns1';
const encoder = new TextEncoder();

/**
 * Sort a file of tables by column, and each column by byte. It gets no smaller by itself; what is alike
 * then stands together, and gzip finds it: a quarter of a model of triphones is left.
 *
 * @param tables - in their order from the start of the file; what comes after them stays as it is
 * @returns the name of this form, the length of the tables as JSON (four bytes), the JSON, the bytes
 */
export function sortByColumn(file: Uint8Array, tables: readonly Table[]): Uint8Array<ArrayBuffer> {
  const head = encoder.encode(JSON.stringify(tables));
  const sorted = new Uint8Array(magic.length + 4 + head.length + file.length);
  sorted.set(encoder.encode(magic));
  new DataView(sorted.buffer).setUint32(magic.length, head.length, true);
  sorted.set(head, magic.length + 4);
  const body = sorted.subarray(magic.length + 4 + head.length);
  body.set(file);
  for (const { byRow, byColumn, rows, width, fromAbove } of planesOf(tables, file.length)) {
    let above = 0;
    for (let row = 0; row < rows; row += 1) {
      const byte = file[byRow + row * width] ?? 0;
      body[byColumn + row] = byte - above;
      if (fromAbove) above = byte;
    }
  }
  return sorted;
}

/** Whether a file was sorted by {@link sortByColumn}. */
export const isSorted = (file: Uint8Array): boolean =>
  encoder.encode(magic).every((byte, index) => file[index] === byte);

/**
 * The file as it was before {@link sortByColumn}.
 *
 * @throws {RangeError} `columns_short` where less is there than the tables need
 */
export function sortedBack(sorted: Uint8Array): Uint8Array<ArrayBuffer> {
  const view = new DataView(sorted.buffer, sorted.byteOffset, sorted.byteLength);
  const start = magic.length + 4;
  const end = start + view.getUint32(magic.length, true);
  const tables = JSON.parse(new TextDecoder().decode(sorted.subarray(start, end))) as Table[];
  const body = sorted.subarray(end);
  const file = new Uint8Array(body);
  for (const { byRow, byColumn, rows, width, fromAbove } of planesOf(tables, body.length)) {
    let above = 0;
    for (let row = 0; row < rows; row += 1) {
      const byte = (body[byColumn + row] ?? 0) + above;
      file[byRow + row * width] = byte;
      if (fromAbove) above = byte;
    }
  }
  return file;
}

/**
 * One byte of each number of a column: where the first of them stands by rows, the others a row's width
 * apart, and where by columns, the others next to it. Bytes are told from the one above, not whole
 * numbers: no carry has to be kept, and what gzip finds is the same.
 */
interface Plane {
  readonly byRow: number;
  readonly byColumn: number;
  readonly rows: number;
  readonly width: number;
  readonly fromAbove: boolean;
}

function planesOf(tables: readonly Table[], length: number): Plane[] {
  let start = 0;
  return tables.flatMap(({ rows, columns }) => {
    const bytes = columns.flatMap((column) =>
      Array.from({ length: column.bytes }, () => column.fromAbove),
    );
    const width = bytes.length;
    const first = start;
    start += rows * width;
    if (start > length) throw new RangeError('columns_short: the file ends too soon');
    return bytes.map((fromAbove, at) => {
      return { byRow: first + at, byColumn: first + at * rows, rows, width, fromAbove };
    });
  });
}
