import { millilitres, type Millilitres } from '../measure/volume.ts';

/**
 * The volumes that one vowel separates from this one: 13 and 30 to 19 and 90, also inside hundreds.
 *
 * @see ISMP, 24 January 2001, and Pennsylvania Patient Safety Advisory, June 2006: 15 taken for 50
 */
export function soundAlike(volume: Millilitres): Millilitres[] {
  const tail = volume % 100;
  if (tail >= 13 && tail <= 19) return [millilitres(volume - tail + (tail - 10) * 10)];
  if (tail >= 30 && tail % 10 === 0) return [millilitres(volume - tail + 10 + tail / 10)];
  return [];
}
