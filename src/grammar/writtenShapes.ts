/**
 * The shapes of written numbers, in order of their word ids. A grammar names them as
 * `<written.digit>`; the value of such a word is its number.
 */
export const writtenShapes = [
  'unknown',
  'zero',
  'digit',
  'teen',
  'tens',
  'twoDigits',
  'ledByZero',
  'hundreds',
  'threeDigits',
  'thousands',
  'fourDigits',
  'large',
  'oversize',
  'decimal',
  'hundredths',
  'fraction',
  'clock',
  'colon',
  'money',
  'comma',
  'dash',
] as const;

export type WrittenShape = (typeof writtenShapes)[number];

export const shapeId = Object.fromEntries(
  writtenShapes.map((shape, id) => [shape, id]),
) as Readonly<Record<WrittenShape, number>>;

/** Above this no volume is meant. */
export const largestNumber = 100_000;

/** The shape of a run of digits without a mark in it. */
export function shapeOfDigits(digits: string): WrittenShape {
  const value = Number(digits);
  if (digits.length > 6 || value > largestNumber) return 'oversize';
  switch (digits.length) {
    case 1:
      return value === 0 ? 'zero' : 'digit';
    case 2:
      if (value < 10) return 'ledByZero';
      if (value < 20) return 'teen';
      return value % 10 === 0 ? 'tens' : 'twoDigits';
    case 3:
      if (value < 100) return 'unknown';
      return value % 100 === 0 ? 'hundreds' : 'threeDigits';
    case 4:
      if (value < 1000) return 'unknown';
      return value % 1000 === 0 ? 'thousands' : 'fourDigits';
    default:
      return digits.startsWith('0') ? 'unknown' : 'large';
  }
}
