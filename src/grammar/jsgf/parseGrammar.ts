import type { Expansion, Grammar, Option, Rule } from './grammar.ts';
import { GrammarError } from './grammarError.ts';
import { scan, type Lexeme } from './scan.ts';

const header = /^\uFEFF?#JSGF V1\.0(?: [\w.-]+(?: [\w-]+)?)?;[ \t]*\r?\n/;

/**
 * Read one JSGF file.
 *
 * @throws {GrammarError} `header_missing`, `malformed`, `rule_twice`
 * @see JSpeech Grammar Format, W3C Note, 5 June 2000
 */
export function parseGrammar(file: string, text: string): Grammar {
  const opening = header.exec(text);
  if (!opening) throw new GrammarError('header_missing', file, 1, 'expected "#JSGF V1.0;" first');
  const reader = new Reader(file, scan(text, file, opening[0].length));
  reader.expectWord('grammar');
  const name = reader.take('word').text;
  reader.expectMark(';');
  const imports: { name: string; line: number }[] = [];
  while (reader.now.type === 'word' && reader.now.text === 'import') {
    reader.take('word');
    const { text: target, line } = reader.takeImport();
    imports.push({ name: target, line });
    reader.expectMark(';');
  }
  const rules: Rule[] = [];
  const seen = new Set<string>();
  while (reader.now.type !== 'end') {
    const rule = reader.rule();
    if (seen.has(rule.name))
      throw new GrammarError('rule_twice', file, rule.line, `<${rule.name}> is defined twice`);
    seen.add(rule.name);
    rules.push(rule);
  }
  return { name, file, imports, rules };
}

class Reader {
  readonly #file: string;
  readonly #lexemes: readonly Lexeme[];
  #at = 0;

  constructor(file: string, lexemes: readonly Lexeme[]) {
    this.#file = file;
    this.#lexemes = lexemes;
  }

  get now(): Lexeme {
    return this.#lexemes[this.#at] ?? this.#lexemes[this.#lexemes.length - 1]!;
  }

  refuse(expected: string): never {
    const { line, text } = this.now;
    throw new GrammarError('malformed', this.#file, line, `expected ${expected}, got "${text}"`);
  }

  take(type: Lexeme['type']): Lexeme {
    const lexeme = this.now;
    if (lexeme.type !== type) this.refuse(type);
    this.#at++;
    return lexeme;
  }

  takeImport(): Lexeme {
    const lexeme = this.take('rule');
    if (!/^[\w.-]+\.(\*|[\w-]+)$/.test(lexeme.text)) {
      this.#at--;
      this.refuse('<grammar.rule> or <grammar.*>');
    }
    return lexeme;
  }

  expectWord(word: string) {
    if (this.now.type !== 'word' || this.now.text !== word) this.refuse(`"${word}"`);
    this.#at++;
  }

  expectMark(mark: string) {
    if (!this.#isMark(mark)) this.refuse(`"${mark}"`);
    this.#at++;
  }

  rule(): Rule {
    const { line } = this.now;
    const isPublic = this.now.type === 'word' && this.now.text === 'public';
    if (isPublic) this.take('word');
    const name = this.take('rule').text;
    this.expectMark('=');
    const body = this.#choice();
    this.expectMark(';');
    return { name, isPublic, body, file: this.#file, line };
  }

  #isMark(mark: string) {
    return this.now.type === 'mark' && this.now.text === mark;
  }

  #choice(): Expansion {
    const options: Option[] = [];
    do {
      if (options.length > 0) this.expectMark('|');
      const weighted = this.now.type === 'weight';
      const weight = weighted ? Number(this.take('weight').text) : 1;
      options.push({ weight, body: this.#sequence() });
    } while (this.#isMark('|'));
    const only = options[0]!;
    return options.length === 1 && only.weight === 1 ? only.body : { type: 'choice', options };
  }

  #sequence(): Expansion {
    const parts: Expansion[] = [];
    for (let part = this.#item(); part; part = this.#item()) parts.push(part);
    if (parts.length === 0) this.refuse('a word, a rule or a group');
    return parts.length === 1 ? parts[0]! : { type: 'sequence', parts };
  }

  #item(): Expansion | null {
    const { type, text, line } = this.now;
    if (type === 'tag') {
      this.#at++;
      return { type, text: text.replace(/\\(.)/g, '$1'), line };
    }
    let body: Expansion;
    if (type === 'word') {
      this.#at++;
      const words = text.replace(/\\(.)/g, '$1').toLowerCase().trim().split(/\s+/);
      const parts = words.map((word) => ({ type: 'word' as const, word, line }));
      body = parts.length === 1 ? parts[0]! : { type: 'sequence', parts };
    } else if (type === 'rule') {
      this.#at++;
      body = { type: 'rule', name: text, line };
    } else if (this.#isMark('(') || this.#isMark('[')) {
      this.#at++;
      const inner = this.#choice();
      this.expectMark(text === '(' ? ')' : ']');
      body = text === '(' ? inner : { type: 'optional', body: inner };
    } else return null;
    while (this.#isMark('*') || this.#isMark('+')) {
      body = { type: 'repeat', body, least: this.now.text === '*' ? 0 : 1 };
      this.#at++;
    }
    return body;
  }
}
