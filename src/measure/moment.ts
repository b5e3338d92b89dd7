/**
 * One instant, and what the wall clock showed then.
 *
 * The offset is kept with the instant because the unit may change its zone, and an entry must go on
 * saying the time that the aide saw.
 */
export interface Moment {
  /** Milliseconds since the Unix epoch. */
  readonly ms: number;
  /** Minutes east of UTC on the device that read the clock: 60 for UTC+01:00. */
  readonly offset: number;
}

const two = (value: number): string => String(value).padStart(2, '0');

/** A UTC offset as ISO 8601 writes it: `+01:00`, `-03:30`. */
export function offsetText(offset: number): string {
  const size = Math.abs(offset);
  return `${offset < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/**
 * A moment in ISO 8601 with its offset, to the second: `2026-11-25T06:42:00+01:00`.
 *
 * @see RFC 3339, section 5.6
 */
export function isoOf(moment: Moment): string {
  const local = new Date(moment.ms + moment.offset * 60_000).toISOString().slice(0, 19);
  return `${local}${offsetText(moment.offset)}`;
}

/** The wall clock of a moment as hospitals write it, 24 hours, four digits: `0642`. */
export function clockText(moment: Moment): string {
  const local = new Date(moment.ms + moment.offset * 60_000);
  return `${two(local.getUTCHours())}${two(local.getUTCMinutes())}`;
}
