import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const grammars = join(import.meta.dirname, '..', '..', 'grammars');

/** The grammar files of a locale: text by file name. */
export function grammarFiles(locale = 'en-US'): Record<string, string> {
  const folder = join(grammars, locale);
  return Object.fromEntries(
    readdirSync(folder)
      .filter((name) => name.endsWith('.gram'))
      .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
  );
}

/** The folders of grammars that there are, such as `en-US`. */
export const grammarLocales = (): string[] => readdirSync(grammars);
