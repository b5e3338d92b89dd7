import type { Moment } from '../measure/moment.ts';

/** Where instants come from, with the offset that clocks on some wall had then. */
export interface Clock {
  readonly now: () => Moment;
  readonly momentAt: (ms: number) => Moment;
}

/** An instant of the device's clock with the offset that its zone had then. */
export function momentAt(ms: number): Moment {
  return { ms, offset: 0 - new Date(ms).getTimezoneOffset() };
}

/** The device's clock, read here and nowhere below. */
export function now(): Moment {
  return momentAt(Date.now());
}

export const deviceClock: Clock = { now, momentAt };

/**
 * The device's clock with the offsets of another zone than its own.
 *
 * @param zone - IANA zone, asked for each time
 */
export function clockIn(zone: () => string): Clock {
  const at = (ms: number): Moment => ({ ms, offset: offsetIn(zone(), ms) });
  return { now: () => at(Date.now()), momentAt: at };
}

/** Minutes east of UTC of a zone at an instant. */
function offsetIn(timeZone: string, ms: number): number {
  // Swedish writes date and time as ISO 8601 does: 2026-11-30 00:04:00.
  const wall = new Date(ms).toLocaleString('sv-SE', { timeZone });
  const asUtc = Date.parse(`${wall.replace(' ', 'T')}Z`);
  return Math.round((asUtc - ms) / 60_000);
}
