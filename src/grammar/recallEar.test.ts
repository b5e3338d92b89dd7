import { describe, expect, it } from 'vitest';
import { withKeyWords } from './recallEar.ts';

const base = {
  jsgf: '#JSGF V1.0;\ngrammar ear;\npublic <ear> = <a> | <b>;\n<a> = tell me;\n<b> = why;\n',
  words: ['me', 'tell', 'why'],
  phrases: [{ phrase: 'why', boost: 4 }],
};

describe('When the words of steps are added to a grammar', () => {
  const grammar = withKeyWords(base, [[['close', 'shut'], ['tap']], [['hand sanitizer']]]);

  it('the commands stay, and a word of each list is taken, in either order', () => {
    expect(grammar.jsgf).toMatch(
      /^public <ear> = <a> \| <b> \| \[i \| .*\] <named> \[on \| .*\];$/m,
    );
    expect(grammar.jsgf).toContain('\n<a> = tell me;\n');
    const [, named] = /^<named> = (.*);$/m.exec(grammar.jsgf) ?? [];
    expect(named?.split(' | (')).toEqual([
      '(close | shut) [<between>] (tap)',
      'tap) [<between>] (close | shut)',
      'hand sanitizer)',
    ]);
  });

  it('every word in it is told to the dictionary', () => {
    expect(grammar.words).toEqual([...new Set(grammar.words)].sort());
    expect(grammar.words).toEqual(expect.arrayContaining(['tell', 'tap', 'sanitizer', 'the']));
  });

  it('the key words are phrases to favour, after the commands', () => {
    expect(grammar.phrases.map(({ phrase }) => phrase)).toEqual([
      'why',
      'close',
      'hand',
      'sanitizer',
      'shut',
      'tap',
    ]);
  });

  it('steps without words add nothing', () => {
    expect(withKeyWords(base, [[], []])).toBe(base);
  });
});
