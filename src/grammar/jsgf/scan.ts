import { GrammarError } from './grammarError.ts';

export interface Lexeme {
  readonly type: 'word' | 'rule' | 'tag' | 'weight' | 'mark' | 'end';
  readonly text: string;
  readonly line: number;
}

const blank = /\s+|\/\/[^\n]*|\/\*[^]*?\*\//y;
const shapes = [
  ['rule', /<\s*([^<>{}\s;=|]+)\s*>/y],
  ['tag', /\{((?:\\.|[^{}\\])*)\}/y],
  ['weight', /\/\s*(\d+(?:\.\d*)?(?:[eE][-+]?\d+)?|\.\d+)\s*\//y],
  ['word', /"((?:\\.|[^"\\])+)"/y],
  ['mark', /([;=|*+()[\]])/y],
  ['word', /([^\s;=|*+<>()[\]{}/"\\]+)/y],
] as const;

/** Cut the text of a grammar file, after its header, into lexemes. */
export function scan(text: string, file: string, from: number): Lexeme[] {
  const found: Lexeme[] = [];
  let at = from;
  let line = text.slice(0, from).split('\n').length;
  const step = (piece: string) => {
    at += piece.length;
    line += piece.split('\n').length - 1;
  };
  outer: while (at < text.length) {
    blank.lastIndex = at;
    const space = blank.exec(text);
    if (space) {
      step(space[0]);
      continue;
    }
    for (const [type, shape] of shapes) {
      shape.lastIndex = at;
      const match = shape.exec(text);
      if (!match) continue;
      found.push({ type, text: (match[1] ?? '').trim(), line });
      step(match[0]);
      continue outer;
    }
    throw new GrammarError('malformed', file, line, `cannot read "${text.slice(at, at + 12)}"`);
  }
  found.push({ type: 'end', text: 'end of file', line });
  return found;
}
