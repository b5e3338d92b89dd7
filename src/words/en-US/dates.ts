const months = [
  'January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September',
  'October', 'November', 'December',
]; // prettier-ignore
const days = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

/**
 * A date as it is read: `Tuesday, November 24, 2026`.
 *
 * @param date - ISO 8601, `2026-11-24`; anything else comes back as it is
 */
export function dateText(date: string): string {
  const day = new Date(`${date}T00:00:00Z`);
  if (Number.isNaN(day.getTime())) return date;
  const month = months[day.getUTCMonth()] ?? '';
  return `${days[day.getUTCDay()] ?? ''}, ${month} ${day.getUTCDate()}, ${day.getUTCFullYear()}`;
}

/** The same in few letters, for a place with little room: `Nov 24`. */
export function shortDateText(date: string): string {
  const day = new Date(`${date}T00:00:00Z`);
  if (Number.isNaN(day.getTime())) return date;
  return `${(months[day.getUTCMonth()] ?? '').slice(0, 3)} ${day.getUTCDate()}`;
}

/** A length of time in the largest two units that tell something: `3 days 2 h`, `1 h 5 min`, `40 s`. */
export function spanText(ms: number): string {
  const seconds = Math.round(ms / 1000);
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return hours % 24 === 0 ? `${hours / 24} days` : `${Math.floor(hours / 24)} days ${hours % 24} h`;
}
