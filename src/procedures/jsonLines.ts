/** Where each value of a JSON text stands, and what the text itself gets wrong. */
export interface JsonLines {
  /** The line of a path such as `steps.3.call`, from 1; of its nearest parent where it is absent. */
  lineOf(path: string): number;
  /** Keys that stand twice in one object; `JSON.parse` keeps the last without a word. */
  readonly repeated: readonly string[];
}

/** The text is no JSON from this line on. */
export interface JsonBroken {
  readonly brokenAt: number;
}

const token = /[ \t\r\n]*([{}[\],:]|"(?:[^"\\]|\\.)*"|-?\d[\d.eE+-]*|true|false|null)/y;

/**
 * Find the line of every value of a JSON text.
 *
 * The engines word their syntax errors each in its own way and keep no places for what parses, so
 * the text is walked once more; `JSON.parse` stays the judge of what the values are.
 */
export function jsonLines(text: string): JsonLines | JsonBroken {
  const lines = new Map<string, number>();
  const repeated: string[] = [];
  const reader = new RegExp(token);
  let line = 1;
  let at = 0;

  const read = (): string => {
    reader.lastIndex = at;
    const found = reader.exec(text);
    const word = found?.[1];
    if (found === null || word === undefined) {
      // Blank lines before what is wrong do not count as the place of it.
      const blank = /^[ \t\r\n]*/.exec(text.slice(at))?.[0] ?? '';
      line += (blank.match(/\n/g) ?? []).length;
      throw new Stop();
    }
    line += (found[0].match(/\n/g) ?? []).length;
    at = reader.lastIndex;
    return word;
  };
  const need = (word: string, ...wanted: string[]): string => {
    if (!wanted.includes(word)) throw new Stop();
    return word;
  };

  const value = (word: string, path: string, depth: number): void => {
    if (depth > 50) throw new Stop();
    if (!lines.has(path)) lines.set(path, line);
    const below = (key: string | number): string => (path === '' ? `${key}` : `${path}.${key}`);
    if (word === '{') {
      let next = read();
      while (next !== '}') {
        if (!next.startsWith('"')) throw new Stop();
        const key = below(JSON.parse(next) as string);
        if (lines.has(key)) repeated.push(key);
        lines.set(key, line);
        need(read(), ':');
        value(read(), key, depth + 1);
        next = need(read(), ',', '}');
        if (next === ',') next = notClosing(read());
      }
    } else if (word === '[') {
      let next = read();
      for (let index = 0; next !== ']'; index++) {
        value(next, below(index), depth + 1);
        next = need(read(), ',', ']');
        if (next === ',') next = notClosing(read());
      }
    } else if (/^[\]},:]$/.test(word)) throw new Stop();
  };

  try {
    value(read(), '', 0);
    if (text.slice(at).trim() !== '') read();
    // What is still wrong, such as an odd number or what follows the end, is the parser's to find.
    JSON.parse(text);
  } catch (error) {
    if (error instanceof Stop || error instanceof SyntaxError) return { brokenAt: line };
    throw error;
  }
  return {
    repeated,
    lineOf(path) {
      for (let name = path; name !== ''; name = name.slice(0, Math.max(0, name.lastIndexOf('.')))) {
        const found = lines.get(name);
        if (found !== undefined) return found;
      }
      return 1;
    },
  };
}

class Stop extends Error {}

/** A comma promises another member. */
function notClosing(word: string): string {
  if (word === '}' || word === ']') throw new Stop();
  return word;
}
