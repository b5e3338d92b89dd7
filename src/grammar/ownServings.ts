import type { Serving } from '../measure/intake.ts';
import { defaultServings } from '../measure/servings.ts';

/** Stands in `intake.gram` where the names of a unit's own servings go. */
const place = '<own> = <VOID>;';
const intake = 'intake.gram';

/** A grammar is written with these, so it can not have them said. */
const ofJsgf = new Set(['public', 'grammar', 'import']);

/** A text in words that can be said, or null where it has figures or signs. */
function plainWords(text: string): string | null {
  const plain = text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replaceAll('’', "'")
    .replaceAll('&', ' and ')
    .replace(/[-\s]+/g, ' ')
    .trim()
    .toLowerCase();
  const isSayable = /^[a-z][a-z']*( [a-z][a-z']*)*$/.test(plain);
  return isSayable && !plain.split(' ').some((word) => ofJsgf.has(word)) ? plain : null;
}

/** Every way to name a serving: "iced tea", "tall glass of iced tea", "iced tea tall glass". */
function phrasesOf({ label }: Serving): string[] {
  const [drinks = '', vessel = ''] = label.split(/,(.*)/s);
  const inVessel = plainWords(vessel);
  return drinks.split(/ or |\//).flatMap((drink) => {
    const name = plainWords(drink);
    if (name === null) return [];
    return inVessel === null ? [name] : [name, `${inVessel} of ${name}`, `${name} ${inVessel}`];
  });
}

const isOwn = ({ id, label }: Serving): boolean =>
  !defaultServings.some(({ item }) => item.id === id && item.label === label);

/** Serving id by phrase; null for a phrase that names two of them, which is never guessed. */
function idsByPhrase(servings: readonly Serving[]): ReadonlyMap<string, string | null> {
  const ids = new Map<string, string | null>();
  for (const serving of servings) {
    for (const phrase of new Set(phrasesOf(serving)))
      ids.set(phrase, ids.has(phrase) ? null : serving.id);
  }
  return ids;
}

/** Those that can not be said: figures or signs in the name, or no name of their own. */
export function unsayable(servings: readonly Serving[]): readonly Serving[] {
  const ids = new Set(idsByPhrase(servings).values());
  return servings.filter((serving) => isOwn(serving) && !ids.has(serving.id));
}

/**
 * The grammar files of a tray with the unit's own names in them.
 *
 * Only what a tray listens for is there: reading all files takes longer than a question may.
 *
 * @param rules - the rules a tray listens for, `intake.item` and so on
 * @returns null where the grammar knows every name already, or has no place for more
 */
export function filesWithServings(
  files: Readonly<Record<string, string>>,
  servings: readonly Serving[],
  rules: readonly string[],
): Readonly<Record<string, string>> | null {
  const text = files[intake];
  if (text?.includes(place) !== true) return null;
  const own = new Set(servings.filter(isOwn).map(({ id }) => id));
  const named = [...idsByPhrase(servings)].filter(([, id]) => id === null || own.has(id));
  if (named.length === 0) return null;
  const names = named.map(([phrase, id]) => `(${phrase}) {'${id ?? ''}'}`).join(' | ');
  const all = { ...files, [intake]: text.replace(place, `<own> = ${names};`) };
  return withImports(all, rules);
}

/** The files that these rules stand in, and what those import, and so on. */
function withImports(
  files: Readonly<Record<string, string>>,
  rules: readonly string[],
): Readonly<Record<string, string>> {
  const needed = new Set(['numbers', ...rules.map((rule) => rule.replace(/\..*/, ''))]);
  for (const name of needed) {
    for (const [, other] of files[`${name}.gram`]?.matchAll(/^import <(\w+)\./gm) ?? [])
      if (other !== undefined) needed.add(other);
  }
  return Object.fromEntries(
    Object.entries(files).filter(([file]) => needed.has(file.replace(/\.gram$/, ''))),
  );
}
