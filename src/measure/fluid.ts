/** What a measured fluid is, in the trade's terms. Its codes for interchange live in `exchange`. */
export const fluidKinds = {
  urineCatheter: 'output',
  urineVoided: 'output',
  urinePad: 'output',
  emesis: 'output',
  ostomy: 'output',
  stoolLiquid: 'output',
  oralFluid: 'intake',
} as const satisfies Record<string, 'output' | 'intake'>;

export type FluidKind = keyof typeof fluidKinds;
export type Direction = (typeof fluidKinds)[FluidKind];

/** How an amount was got. Estimated and measured amounts are never added into one figure. */
export type Method = 'measured' | 'estimated' | 'unmeasured';
