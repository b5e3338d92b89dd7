export type GrammarFault =
  | 'malformed'
  | 'header_missing'
  | 'rule_twice'
  | 'rule_unknown'
  | 'rule_private'
  | 'grammar_unknown'
  | 'left_recursion'
  | 'tag_malformed'
  | 'endless';

/** A grammar file breaks JSGF or this project's reading of it. Always our own bug. */
export class GrammarError extends Error {
  override readonly name = 'GrammarError';
  readonly code: GrammarFault;
  readonly file: string;
  /** Counted from 1. */
  readonly line: number;

  constructor(code: GrammarFault, file: string, line: number, reason: string) {
    super(`${file}:${line}: ${code}: ${reason}`);
    this.code = code;
    this.file = file;
    this.line = line;
  }
}
