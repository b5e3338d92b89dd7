import type { TemporalApi } from '../../charting/temporal.ts';
import { momentAt } from '../../charting/wallClock.ts';
import type { Moment } from '../../measure/moment.ts';
import type { Clock } from '../clock.ts';

/**
 * The device's clock with the offsets of another zone than its own.
 *
 * @param zone - IANA zone, asked for each time
 */
export function clockIn(temporal: TemporalApi, zone: () => string): Clock {
  const at = (ms: number): Moment => momentAt(temporal, zone(), ms);
  return { now: () => at(Date.now()), momentAt: at };
}
