import type { TemporalApi } from '../../charting/temporal.ts';

/** Its clocks change twice a year, so that there is always such a night to show. */
const changing = 'America/New_York';

/** Longest time since a change in a zone that still has them, days: some skip half a year. */
const recent = 300;

/** When the clocks of a zone were last changed before an instant, ms, or null where they stand. */
export function lastChange(temporal: TemporalApi, zone: string, ms: number): number | null {
  const at = temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone);
  const before = at.getTimeZoneTransition('previous')?.epochMilliseconds;
  return before === undefined || ms - before > recent * 86_400_000 ? null : before;
}

/** The zone of the demo wing: the device's own where its clocks change, else one whose do. */
export function demoZone(temporal: TemporalApi, own: string, ms: number): string {
  return lastChange(temporal, own, ms) === null ? changing : own;
}
