/** An id that none of the list has: `bed-7`. */
export function freshId(stem: string, items: readonly { readonly id: string }[]): string {
  const taken = new Set(items.map(({ id }) => id));
  let number = items.length + 1;
  while (taken.has(`${stem}-${number}`)) number += 1;
  return `${stem}-${number}`;
}
