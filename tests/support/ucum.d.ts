/** The part of the independent UCUM converter that the checks use; it ships no types. */
declare module '@lhncbc/ucum-lhc' {
  export class UcumLhcUtils {
    static getInstance(): UcumLhcUtils;
    convertUnitTo(
      from: string,
      value: number,
      to: string,
    ): { status: 'succeeded' | 'failed' | 'error'; toVal: number | null };
  }
}
