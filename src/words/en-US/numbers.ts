const small = [
  'zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine',
  'ten', 'eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen', 'sixteen', 'seventeen',
  'eighteen', 'nineteen',
]; // prettier-ignore
const tens = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];

const joined = (...parts: string[]): string => parts.filter((part) => part !== '').join(' ');

/**
 * A whole number in words, as an aide would hear it read out: "one thousand three hundred eighty".
 *
 * @param value - whole, 0 to 999,999
 */
export function spelled(value: number): string {
  if (value < 20) return small[value] ?? String(value);
  if (value < 100) return joined(tens[Math.floor(value / 10)] ?? '', rest(value % 10));
  if (value < 1000) return joined(spelled(Math.floor(value / 100)), 'hundred', rest(value % 100));
  return joined(spelled(Math.floor(value / 1000)), 'thousand', rest(value % 1000));
}

const rest = (value: number): string => (value === 0 ? '' : spelled(value));

/** A whole number digit by digit: "three, five, zero". */
export function digitByDigit(value: number): string {
  return [...String(value)].map((digit) => small[Number(digit)]).join(', ');
}

/**
 * An amount as it is written: `1,380 mL`.
 *
 * @see ISMP List of Error-Prone Abbreviations (2021): space before the unit, comma from 1,000, mL
 */
export function amountText(mL: number): string {
  return `${String(mL).replace(/\B(?=(\d{3})+$)/g, ',')} mL`;
}
