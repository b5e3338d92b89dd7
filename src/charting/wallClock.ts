import type { Moment } from '../measure/moment.ts';
import type { TemporalApi } from './temporal.ts';

/** The instant with the UTC offset that clocks in this zone show then. */
export function momentAt(temporal: TemporalApi, zone: string, ms: number): Moment {
  const zoned = temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone);
  return { ms, offset: Math.round(zoned.offsetNanoseconds / 60e9) };
}

export type WallTime =
  | { readonly ok: true; readonly moment: Moment }
  | { readonly ok: false; readonly fault: 'time_malformed' }
  /** The clocks jumped over it that night. */
  | { readonly ok: false; readonly fault: 'time_skipped' }
  /** The hour happened twice: the person says which. Earlier first. */
  | {
      readonly ok: false;
      readonly fault: 'time_twice';
      readonly choices: readonly [Moment, Moment];
    };

const timeShape = /^([01]\d|2[0-3]):([0-5]\d)$/;

/**
 * What instant a typed date and time mean.
 *
 * @param date - `2026-10-25`
 * @param time - `02:30`, 00:00 to 23:59
 */
export function momentOfWall(
  temporal: TemporalApi,
  zone: string,
  date: string,
  time: string,
): WallTime {
  const clock = timeShape.exec(time);
  if (clock === null) return { ok: false, fault: 'time_malformed' };
  const day = plainDate(temporal, date);
  if (day === null) return { ok: false, fault: 'time_malformed' };
  const plain = day.toPlainDateTime({ hour: Number(clock[1]), minute: Number(clock[2]) });
  const [earlier, later] = (['earlier', 'later'] as const).map((disambiguation) => {
    const zoned = plain.toZonedDateTime(zone, { disambiguation });
    return {
      moment: { ms: zoned.epochMilliseconds, offset: zoned.offsetNanoseconds / 60e9 },
      same: zoned.toPlainDateTime().equals(plain),
    };
  });
  if (earlier === undefined || later === undefined) return { ok: false, fault: 'time_malformed' };
  if (!earlier.same) return { ok: false, fault: 'time_skipped' };
  if (earlier.moment.ms === later.moment.ms) return { ok: true, moment: earlier.moment };
  return { ok: false, fault: 'time_twice', choices: [earlier.moment, later.moment] };
}

/** True for a day that the calendar has: `2026-02-28`, and not `2026-02-30`. */
export function isDate(temporal: TemporalApi, date: string): boolean {
  return plainDate(temporal, date) !== null;
}

function plainDate(temporal: TemporalApi, date: string) {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date)) return null;
  try {
    return temporal.PlainDate.from(date);
  } catch {
    return null; // a day that no calendar has, such as 2026-02-30
  }
}
