/** One grammar of a list, as the older drafts of Web Speech name its parts. */
export interface Grammar {
  /** The grammar as a `data:` address. */
  readonly src: string;
  readonly weight: number;
}

const PREFIX = 'data:application/jsgf;charset=utf-8,';

/**
 * The way in for a grammar: Web Speech's `SpeechGrammarList`.
 *
 * Browsers keep the interface and ignore the content; the bundled engine hears nothing else. With
 * several grammars the one of the greatest weight is taken.
 */
export class GrammarList {
  #grammars: Grammar[] = [];

  get length(): number {
    return this.#grammars.length;
  }

  item(index: number): Grammar | undefined {
    return this.#grammars[index];
  }

  /** @param jsgf - JSGF (W3C Note, June 2000) with one public rule */
  addFromString(jsgf: string, weight = 1): void {
    this.#grammars.push({ src: PREFIX + encodeURIComponent(jsgf), weight });
  }

  /** The text of the grammar that counts, or undefined in an empty list. */
  chosen(): string | undefined {
    const [best] = this.#grammars.toSorted((one, other) => other.weight - one.weight);
    return best === undefined ? undefined : decodeURIComponent(best.src.slice(PREFIX.length));
  }
}

/** The words that a JSGF text may say, each once: all that is no rule, tag, weight or sign. */
export function wordsOfJsgf(jsgf: string): string[] {
  const bare = jsgf
    .replace(/^#JSGF[^;]*;/, ' ')
    .replace(/\/\*[\s\S]*?\*\//g, ' ')
    .replace(/\/\/[^\n]*/g, ' ')
    .replace(/\b(grammar|import)\b[^;]*;/g, ' ')
    .replace(/\{(?:\\.|[^}\\])*\}/g, ' ')
    .replace(/\/[\d.eE+-]+\//g, ' ')
    .replace(/\bpublic\b(?=\s*<)/g, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/[=|()[\]*+;"]/g, ' ');
  return [...new Set(bare.split(/\s+/).filter((word) => word !== ''))];
}
