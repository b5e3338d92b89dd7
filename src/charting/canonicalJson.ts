/**
 * JSON with the keys of every object in one order, so that equal values make equal bytes.
 * Properties that are undefined are left out.
 *
 * @throws {RangeError} `json_not_finite` for NaN and infinities
 * @see RFC 8785, whose result this is for plain data
 */
export function canonicalJson(value: unknown): string {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new RangeError(`json_not_finite: expected a finite number, got ${value}`);
  }
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  // Within an array undefined stands as null, as in JSON.
  if (value === undefined) return 'null';
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const parts: string[] = [];
  const fields = value as Readonly<Record<string, unknown>>;
  for (const key of Object.keys(fields).sort()) {
    if (fields[key] !== undefined) {
      parts.push(`${JSON.stringify(key)}:${canonicalJson(fields[key])}`);
    }
  }
  return `{${parts.join(',')}}`;
}

/** True when two plain values hold the same data. */
export function sameData(one: unknown, other: unknown): boolean {
  return canonicalJson(one) === canonicalJson(other);
}
