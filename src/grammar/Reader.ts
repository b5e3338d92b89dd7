import { linkGrammars } from './jsgf/linkGrammars.ts';
import { parseGrammar } from './jsgf/parseGrammar.ts';
import type { Rule } from './jsgf/grammar.ts';
import { compileRules, type CompiledRules } from './match/compileRules.ts';
import type { Fields, Value } from './match/compileTag.ts';
import { Matcher } from './match/Matcher.ts';
import { dropped, readWords, type HeardWords, type UnreadableCode } from './readWords.ts';
import { shapeId, writtenShapes } from './writtenShapes.ts';

const shapes = new Map(writtenShapes.map((shape) => [`written.${shape}`, shapeId[shape]]));
const predefined = new Set(['NULL', 'VOID', ...shapes.keys()]);

/** Grammar files, ready to read utterances with. */
export class Reader {
  readonly rules: ReadonlyMap<string, Rule>;
  readonly compiled: CompiledRules;
  readonly #matcher: Matcher;
  /** Word to id, with the hesitations marked. */
  readonly #idOf: ReadonlyMap<string, number>;

  /**
   * @param files - text by file name
   * @throws {GrammarError} where a file is malformed
   */
  constructor(files: Readonly<Record<string, string>>) {
    const grammars = Object.entries(files).map(([file, text]) => parseGrammar(file, text));
    this.rules = linkGrammars(grammars, (name) => predefined.has(name));
    this.compiled = compileRules(this.rules, shapes, writtenShapes.length);
    this.#matcher = new Matcher(this.compiled);
    const idOf = new Map(this.compiled.words);
    for (const word of this.wordsOf('numbers.hesitation')) idOf.set(word, dropped);
    this.#idOf = idOf;
  }

  has(rule: string): boolean {
    return this.compiled.indexOf.has(rule);
  }

  words(said: string): HeardWords | UnreadableCode {
    return readWords(said, this.#idOf);
  }

  /** Every value of the rule over the whole utterance; `tangled` where there are too many ways. */
  read(rule: string, heard: HeardWords, given?: Fields): readonly Value[] | 'tangled' {
    const values = this.#matcher.whole(rule, heard, given);
    return this.#matcher.isTangled ? 'tangled' : values;
  }

  /** The single words that a rule takes, by its value. */
  valuesByWord(rule: string): ReadonlyMap<string, Value> {
    const found = new Map<string, Value>();
    if (!this.has(rule)) return found;
    for (const [word, id] of this.compiled.words) {
      const heard = { ids: [id], values: [undefined] };
      const values = this.#matcher.whole(rule, heard);
      if (values.length > 0) found.set(word, values[0]);
    }
    return found;
  }

  wordsOf(rule: string): ReadonlySet<string> {
    return new Set(this.valuesByWord(rule).keys());
  }
}
