import { GrammarError } from '../jsgf/grammarError.ts';

/** A value that a rule hands to the rule that named it. */
export type Value = number | string | undefined | readonly Value[] | Fields;
export interface Fields {
  readonly [name: string]: Value;
}

/** What a tag does. */
export interface Action {
  /** `take` copies all parts of the last value; `test` changes nothing; `change` sets parts. */
  readonly kind: 'take' | 'test' | 'change';
  /** Changes the fields in place; false where a condition fails. */
  readonly run: Statement;
}
type Read = (fields: Fields | null, last: Value, given: Fields) => Value;
type Statement = (fields: Record<string, Value>, last: Value, given: Fields) => boolean;

const pieces =
  /\s*(?:(\d+(?:\.\d+)?)|([A-Za-z_]\w*)|'([^']*)'|(==|!=|<=|>=|[-+*/=<>.;,()[\]$?:&|]))/y;

/**
 * Compile the small language of semantic tags.
 *
 * `{450}` is the rule's value; `{n = $ * 100}` names a part of it, `$` being the value of the rule
 * named just before; `{take $}` copies that value's parts; `{when a.mL == b.mL}` refuses this way of
 * reading; `&`, `|` and `a ? b : c` are as usual. Statements stand apart by `;`. Names not set in the rule are read from what the caller
 * gives. No own `eval`: the pages forbid it.
 *
 * @throws {GrammarError} `tag_malformed`
 */
export function compileTag(text: string, file: string, line: number): Action {
  const refuse = (reason: string): never => {
    throw new GrammarError('tag_malformed', file, line, `${reason} in {${text}}`);
  };
  const lexemes: { kind: 'number' | 'name' | 'text' | 'mark' | 'end'; text: string }[] = [];
  for (let at = 0; at < text.trimEnd().length;) {
    pieces.lastIndex = at;
    const match = pieces.exec(text) ?? refuse(`cannot read "${text.slice(at)}"`);
    at = pieces.lastIndex;
    if (match[1] !== undefined) lexemes.push({ kind: 'number', text: match[1] });
    else if (match[2] !== undefined) lexemes.push({ kind: 'name', text: match[2] });
    else if (match[3] !== undefined) lexemes.push({ kind: 'text', text: match[3] });
    else lexemes.push({ kind: 'mark', text: match[4]! });
  }
  lexemes.push({ kind: 'end', text: 'end' });
  let at = 0;
  const isMark = (mark: string) => lexemes[at]!.kind === 'mark' && lexemes[at]!.text === mark;
  const pass = (mark: string) => (isMark(mark) ? at++ : refuse(`expected "${mark}"`));

  const primary = (): Read => {
    const { kind, text: word } = lexemes[at++]!;
    if (kind === 'number') {
      const value = Number(word);
      return () => value;
    }
    if (kind === 'text') return () => word;
    if (kind === 'name')
      return (fields, _, given) => {
        const own = fields?.[word];
        // Asking whether it is there takes as long as reading it, and it mostly is.
        return own !== undefined || (fields && word in fields) ? own : given[word];
      };
    if (word === '$') return (_, last) => last;
    if (word === '(') {
      const inner = choice();
      pass(')');
      return inner;
    }
    if (word === '[') {
      const items: Read[] = [];
      while (!isMark(']')) {
        items.push(choice());
        if (!isMark(']')) pass(',');
      }
      pass(']');
      return (fields, last, given) => items.map((item) => item(fields, last, given));
    }
    return refuse(`unexpected "${word}"`);
  };
  const field = (): Read => {
    let read = primary();
    while (isMark('.')) {
      at++;
      const { kind, text: name } = lexemes[at++]!;
      if (kind !== 'name') refuse('expected a name after "."');
      const of = read;
      read = (fields, last, given) => partOf(of(fields, last, given), name);
    }
    return read;
  };
  const chain = (marks: string, next: () => Read): (() => Read) => {
    return () => {
      let left = next();
      while (lexemes[at]!.kind === 'mark' && marks.includes(lexemes[at]!.text)) {
        const mark = lexemes[at++]!.text;
        const a = left;
        const b = next();
        left = (fields, last, given) =>
          combine(mark, a(fields, last, given), b(fields, last, given));
      }
      return left;
    };
  };
  const sum = chain('+-', chain('*/', field));
  const compared = (): Read => {
    const a = sum();
    const holds = lexemes[at]!.kind === 'mark' ? comparison(lexemes[at]!.text) : null;
    if (!holds) return a;
    at++;
    const b = sum();
    return (fields, last, given) => (holds(a(fields, last, given), b(fields, last, given)) ? 1 : 0);
  };
  const condition = chain('|', chain('&', compared));
  const choice = (): Read => {
    const test = condition();
    if (!isMark('?')) return test;
    at++;
    const a = choice();
    pass(':');
    const b = choice();
    return (fields, last, given) => (test(fields, last, given) ? a : b)(fields, last, given);
  };

  let isWriting = false;
  const statement = (): Statement => {
    const { kind, text: word } = lexemes[at]!;
    if (kind === 'name' && word === 'take') {
      at++;
      const from = sum();
      isWriting = true;
      return (fields, last, given) => {
        const taken = from(fields, last, given);
        if (isFields(taken)) for (const name in taken) fields[name] = taken[name];
        return true;
      };
    }
    if (kind === 'name' && word === 'when') {
      at++;
      const test = condition();
      return (fields, last, given) => Boolean(test(fields, last, given));
    }
    const after = lexemes[at + 1];
    const isNamed = kind === 'name' && after?.kind === 'mark' && after.text === '=';
    if (isNamed) at += 2;
    const name = isNamed ? word : 'out';
    const read = choice();
    isWriting = true;
    return (fields, last, given) => {
      fields[name] = read(fields, last, given);
      return true;
    };
  };
  const statements: Statement[] = [];
  while (lexemes[at]!.kind !== 'end') {
    statements.push(statement());
    if (lexemes[at]!.kind !== 'end') pass(';');
  }
  if (statements.length === 0) refuse('nothing');
  const [only] = statements;
  const isTake = /^\s*take\s*\$\s*$/.test(text);
  return {
    kind: isTake ? 'take' : isWriting ? 'change' : 'test',
    run:
      statements.length === 1
        ? only!
        : (fields, last, given) => {
            for (const each of statements) if (!each(fields, last, given)) return false;
            return true;
          },
  };
}

export function isFields(value: Value): value is Fields {
  return typeof value === 'object' && !Array.isArray(value);
}

const partOf = (value: Value, name: string): Value => (isFields(value) ? value[name] : undefined);

function combine(mark: string, a: Value, b: Value): Value {
  if (mark === '&') return a && b ? 1 : 0;
  if (mark === '|') return a || b ? 1 : 0;
  if (Array.isArray(a) || Array.isArray(b))
    return [...((a ?? []) as Value[]), ...((b ?? []) as Value[])];
  if (mark === '+' && (typeof a === 'string' || typeof b === 'string'))
    return `${String(a ?? '')}${String(b ?? '')}`;
  const x = (a ?? 0) as number;
  const y = (b ?? 0) as number;
  if (mark === '+') return x + y;
  if (mark === '-') return x - y;
  return mark === '*' ? x * y : x / y;
}

function comparison(test: string): ((a: Value, b: Value) => boolean) | null {
  switch (test) {
    case '==':
      return (a, b) => a === b;
    case '!=':
      return (a, b) => a !== b;
    case '<':
      return (a, b) => (a as number) < (b as number);
    case '<=':
      return (a, b) => (a as number) <= (b as number);
    case '>':
      return (a, b) => (a as number) > (b as number);
    case '>=':
      return (a, b) => (a as number) >= (b as number);
    default:
      return null;
  }
}

/** Whether two values are the same all through. */
export function isSameValue(a: Value, b: Value): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object') return false;
  if (Array.isArray(a) || Array.isArray(b))
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((item: Value, index) => isSameValue(item, b[index] as Value))
    );
  const left = a as Fields;
  const right = b as Fields;
  const names = Object.keys(left);
  return (
    names.length === Object.keys(right).length &&
    names.every((name) => name in right && isSameValue(left[name], right[name]))
  );
}
