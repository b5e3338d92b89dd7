import type { TemporalApi } from '../charting/temporal.ts';

/** The parts of the browser's own Temporal that are asked for before anything is loaded. */
interface OwnTemporal extends TemporalApi {
  readonly Now: { timeZoneId(): string };
}

const own = (): OwnTemporal | undefined =>
  (globalThis as { readonly Temporal?: OwnTemporal }).Temporal;

/**
 * The name of the zone that this device is in, such as `America/New_York`.
 *
 * Asked of a format of dates, the first answer takes a slow tablet a seventh of a second.
 */
export const deviceZone = (): string =>
  own()?.Now.timeZoneId() ?? Intl.DateTimeFormat().resolvedOptions().timeZone;

/** The browser's own Temporal, or the polyfill where there is none; loaded only then. */
export async function loadTemporal(): Promise<TemporalApi> {
  return own() ?? (await import('temporal-polyfill')).Temporal;
}
