import { describe, expect, it } from 'vitest';
import { Reader } from '../Reader.ts';
import { GrammarError } from './grammarError.ts';

const head = '#JSGF V1.0 UTF-8 en;\ngrammar t;\n';
const faultOf = (files: Record<string, string>) => {
  try {
    new Reader(files);
  } catch (error) {
    if (error instanceof GrammarError)
      return { code: error.code, file: error.file, line: error.line };
    throw error;
  }
  return null;
};

describe('When a grammar file is malformed', () => {
  it.each([
    ['no header', 'grammar t;\npublic <a> = b;', 'header_missing', 1],
    ['no grammar name', '#JSGF V1.0;\npublic <a> = b;', 'malformed', 2],
    ['no semicolon', `${head}<a> = b\n<c> = d;`, 'malformed', 4],
    ['an open group', `${head}\n<a> = (b | c;`, 'malformed', 4],
    ['an empty alternative', `${head}<a> = b | ;`, 'malformed', 3],
    ['a weight inside a sequence', `${head}<a> = b /2/ c;`, 'malformed', 3],
    ['a bad import', `${head}import <x>;\n<a> = b;`, 'malformed', 3],
    ['a rule twice', `${head}<a> = b;\n<a> = c;`, 'rule_twice', 4],
    ['an unknown rule', `${head}<a> = b;\n<c> = <d>;`, 'rule_unknown', 4],
    ['an unknown grammar', `${head}import <far.away>;\n<a> = b;`, 'grammar_unknown', 3],
    ['left recursion', `${head}<a> = <a> b | b;`, 'left_recursion', 3],
    [
      'hidden left recursion',
      `${head}<a> = [c] <b>;\n<b> = {x = 1} <a> b | b;`,
      'left_recursion',
      3,
    ],
    ['left recursion in a repeat', `${head}<a> = (<a> b)* c;`, 'left_recursion', 3],
    ['a tag that is no tag', `${head}<a> = b {x = ;};`, 'tag_malformed', 3],
    ['a repeat of nothing', `${head}<a> = ([b])* c;`, 'endless', 3],
  ])('refuses %s with file, line and reason', (_, text, code, line) => {
    expect(faultOf({ 't.gram': text })).toEqual({ code, file: 't.gram', line });
  });

  it('refuses what another file keeps private', () => {
    const other = '#JSGF V1.0;\ngrammar o;\npublic <x> = y;\n<z> = w;';
    expect(faultOf({ 'o.gram': other, 't.gram': `${head}import <o.z>;\n<a> = <z>;` })).toEqual({
      code: 'rule_private',
      file: 't.gram',
      line: 3,
    });
  });
});

describe('When grammars are read', () => {
  const read = (body: string, said: string, more: Record<string, string> = {}) => {
    const reader = new Reader({ 't.gram': head + body, ...more });
    const heard = reader.words(said);
    return typeof heard === 'string' ? heard : reader.read('t.a', heard);
  };

  it.each([
    ['a sequence', 'public <a> = b c {1};', 'b c', [1]],
    ['both ways of an ambiguity', 'public <a> = b {1} | b {2};', 'b', [1, 2]],
    ['an optional, there or not', 'public <a> = [b] c {1};', 'c', [1]],
    ['a star, no times', 'public <a> = c {n = 0} (b {n = n + 1})* {n};', 'c', [0]],
    ['a star, three times', 'public <a> = c {n = 0} (b {n = n + 1})* {n};', 'c b b b', [3]],
    ['a plus that is not there', 'public <a> = c b+ {1};', 'c', []],
    ['right recursion', 'public <a> = b {1} | b <a> {$ + 1};', 'b b b b', [4]],
    ['nesting', 'public <a> = b {0} | b <a> {n = $} c {out = n + 1};', 'b b b c c', [2]],
    ['the value of the rule named last', '<d> = x {7};\npublic <a> = <d> {$ * 2} y;', 'x y', [14]],
    ['a condition', 'public <a> = b {n = 1} ({when n == 1; 1} | {when n == 2; 2});', 'b', [1]],
    [
      'parts of a value',
      '<d> = x {n = 3; m = 4};\npublic <a> = <d> {take $; k = n + m};',
      'x',
      [{ n: 3, m: 4, k: 7 }],
    ],
    ['lists', 'public <a> = b {l = [1, 2] + [3]} {l};', 'b', [[1, 2, 3]]],
    ['quoted words', 'public <a> = "b c" {1};', 'b c', [1]],
    ['comments', '// one\npublic <a> = b /* two\n three */ {1};', 'b', [1]],
    ['weights', 'public <a> = /3/ b {1} | /0.5/ c {2};', 'c', [2]],
    ['<NULL> and <VOID>', 'public <a> = b <NULL> {1} | b <VOID> {2};', 'b', [1]],
    [
      'the shape of a written number',
      'import <written.*>;\npublic <a> = <written.threeDigits> {$ + 1};',
      '350',
      [351],
    ],
  ])('%s', (_, body, said, values) => {
    expect(read(body, said)).toEqual(values);
  });

  it('takes rules of another file', () => {
    const other = '#JSGF V1.0;\ngrammar o;\npublic <x> = y {5};\npublic <w> = v {6};';
    expect(read('import <o.x>;\npublic <a> = <x>;', 'y', { 'o.gram': other })).toEqual([5]);
    expect(read('import <o.*>;\npublic <a> = <w>;', 'v', { 'o.gram': other })).toEqual([6]);
    expect(read('public <a> = <o.x>;', 'y', { 'o.gram': other })).toEqual([5]);
  });

  it('says so when a sentence has more ways than can be told', () => {
    const body = 'public <a> = <x> {l = [$]} (<x> {l = l + [$]})+;\n<x> = b {1} | b b {2} | b {3};';
    expect(read(body, 'b '.repeat(40))).toBe('tangled');
  });
});
