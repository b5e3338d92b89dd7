/**
 * The bed of the unit that a spoken number means, by its label: "Bed 4", "Room 12 A".
 *
 * @param side - a letter after the number, where one was said
 * @returns null where no bed, or more than one, has that number
 */
export function bedNamed(
  beds: readonly string[],
  number: number,
  side: string | null,
): string | null {
  const fits = beds.filter((label) => {
    const found = /(\d+)\s*-?\s*([A-Za-z])?$/.exec(label.trim());
    return Number(found?.[1]) === number && (found?.[2]?.toUpperCase() ?? null) === side;
  });
  return fits.length === 1 ? (fits[0] ?? null) : null;
}
