import type { Temporal } from 'temporal-polyfill';

/**
 * The parts of Temporal that the shifts need. It is handed in, because older browsers have none of
 * their own and this room loads nothing.
 */
export interface TemporalApi {
  readonly Instant: Pick<typeof Temporal.Instant, 'fromEpochMilliseconds'>;
  readonly PlainDate: Pick<typeof Temporal.PlainDate, 'from'>;
}
