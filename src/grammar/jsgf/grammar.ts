/** One node of a rule, as JSGF writes it. */
export type Expansion =
  | { readonly type: 'word'; readonly word: string; readonly line: number }
  | { readonly type: 'rule'; readonly name: string; readonly line: number }
  | { readonly type: 'tag'; readonly text: string; readonly line: number }
  | { readonly type: 'sequence'; readonly parts: readonly Expansion[] }
  | { readonly type: 'choice'; readonly options: readonly Option[] }
  | { readonly type: 'optional'; readonly body: Expansion }
  /** `least` 0 is `*`, 1 is `+`. */
  | { readonly type: 'repeat'; readonly body: Expansion; readonly least: 0 | 1 };

/** One alternative. A weight of 0 can never be spoken; this project uses it for what is only written. */
export interface Option {
  readonly weight: number;
  readonly body: Expansion;
}

export interface Rule {
  /** Bare inside a file; `grammar.rule` once linked. */
  readonly name: string;
  readonly isPublic: boolean;
  readonly body: Expansion;
  readonly file: string;
  readonly line: number;
}

/** One file. */
export interface Grammar {
  readonly name: string;
  readonly file: string;
  /** `grammar.rule` or `grammar.*`. */
  readonly imports: readonly { readonly name: string; readonly line: number }[];
  readonly rules: readonly Rule[];
}
