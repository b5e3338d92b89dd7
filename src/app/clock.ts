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
