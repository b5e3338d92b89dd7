/** A volume in whole millilitres, 0 or more. {@link millilitres} is its only maker. */
export type Millilitres = number & { readonly [brand]: 'mL' };
declare const brand: unique symbol;

export type VolumeFault = 'volume_not_whole' | 'volume_negative';

/** A caller broke this module's contract. What a person says wrongly is a value, never this. */
export class VolumeError extends RangeError {
  override readonly name = 'VolumeError';
  readonly code: VolumeFault;

  constructor(code: VolumeFault, got: number) {
    super(`${code}: expected a whole number of mL, 0 or more, got ${got}`);
    this.code = code;
  }
}

/** True for a number that may stand as a volume: whole, safe, not negative. */
export function isMillilitres(value: unknown): value is Millilitres {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0;
}

/**
 * Brand a number as a volume.
 *
 * @param value - mL
 * @throws {VolumeError} `volume_not_whole`, `volume_negative`
 */
export function millilitres(value: number): Millilitres {
  if (!Number.isSafeInteger(value)) throw new VolumeError('volume_not_whole', value);
  if (value < 0) throw new VolumeError('volume_negative', value);
  return value as Millilitres;
}

/** The volume of several fills of one emptying, mL. */
export function sumOf(fills: readonly Millilitres[]): Millilitres {
  return millilitres(fills.reduce((sum, fill) => sum + fill, 0));
}
