import { describe, expect, it } from 'vitest';
import { houseFaults } from './houseRules.ts';

const file = (path: string, text = '') => ({ path, text });

describe('When the house is in order', () => {
  it.each([
    ['the top', file('README.md'), file('.gitignore'), file('src/main.ts')],
    ['a volume in mL', file('src/words/en-US/bedside.ts', 'at 350 mL; an account, 4 accents')],
    ['a colour', file('src/screens/A.svelte', 'color: #0cc; background: #3344cc')],
    ['"cc" as it is heard', file('grammars/en-US/unit.md', '350 cc')],
    [
      'a reasoned exception',
      file('src/a.ts', '// eslint-disable-next-line x -- the type is wrong'),
    ],
    [
      'a grammar with its sentences',
      file('grammars/en-US/volume.gram'),
      file('grammars/en-US/volume.sentences.yaml'),
    ],
    [
      'a long file that says why',
      file('src/a.ts', `/** Long, as a table. */\n${'a;\n'.repeat(400)}`),
      ...Array.from({ length: 20 }, (_, at) => file(`src/b${at}.ts`)),
    ],
    ['an address', file('README.md', 'https://example.org/home/page and src/root/a')],
  ])('finds nothing in %s', (_, ...files) => {
    expect(houseFaults(files)).toEqual([]);
  });
});

describe('When a rule is broken', () => {
  it.each([
    ['a stray at the top', file('notes.txt'), 'notes.txt: nothing else'],
    ['cc', file('src/words/en-US/bedside.ts', '\nat 350 cc'), 'bedside.ts:2: "cc"'],
    ["cc's behind a value", file('src/screens/A.svelte', '<p>{amount}cc’s</p>'), '"cc"'],
    ['another way to write mL', file('README.md', '350 ml'), 'the unit is written mL'],
    ['a skipped test', file('src/a.test.ts', "it.skip('x')"), 'left out'],
    ['a silenced check', file('src/a.ts', '// eslint-disable-next-line x'), 'reason'],
    ['a silenced type', file('src/a.ts', '// @ts-ignore'), 'reason'],
    ['unfinished work', file('src/a.ts', '// TODO later'), 'unfinished'],
    ['a path of a machine', file('tests/a.ts', "'/home/someone/x'"), 'machine'],
    ['a recorder', file('src/speech/a.ts', 'new MediaRecorder(stream)'), 'recorded'],
    ['a barrel', file('src/measure/index.ts'), 'bears the name'],
    ['a lone grammar', file('grammars/en-US/volume.gram'), 'volume.sentences.yaml'],
  ])('names %s', (_, broken, message) => {
    const faults = houseFaults([broken]);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toContain(message);
  });

  it('names a file that is too long, and too many long ones', () => {
    expect(houseFaults([file('src/a.ts', 'a;\n'.repeat(401))])).toEqual([
      'src/a.ts: over 400 lines without a sentence at the top saying why',
      '1 of 1 files have over 250 lines; 1 in 20 may',
    ]);
  });
});
