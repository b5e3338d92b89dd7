import type { TemporalApi } from '../charting/temporal.ts';

/** The browser's own Temporal, or the polyfill where there is none; loaded only then. */
export async function loadTemporal(): Promise<TemporalApi> {
  const { Temporal: own } = globalThis as { Temporal?: TemporalApi };
  return own ?? (await import('temporal-polyfill')).Temporal;
}
