import { describe, expect, it } from 'vitest';
import { createInterpreter } from '../../src/grammar/interpreter.ts';
import { outcomeOf, tableOf } from '../bench/hearing/score.ts';
import { grammarFiles } from '../support/grammarFiles.ts';
import { parseList } from './hearList.ts';

const interpreter = createInterpreter(grammarFiles());
const parsed = (row: string) => parseList(row, interpreter)[0];

describe('When a list of recordings is read', () => {
  it.each([
    ['a.wav\t350\t1000/25', { mL: 350 }, 'reading'],
    ['a.wav\t-\t500/10', null, 'reading'],
    ['a.wav\tnext\tstep', { command: 'next' }, 'step'],
    ['a.wav\tsay that again\tstep', { command: 'again' }, 'step'],
    ['a.wav\tThat is correct\treadback', { command: 'confirm' }, 'readback'],
    ['a.wav\tconfirm\treadback', { command: 'confirm' }, 'readback'],
    ['a.wav\t350\treadback', { mL: 350 }, 'readback'],
  ])('%j', (row, want, state) => {
    expect(parsed(row)).toMatchObject({ path: 'a.wav', want, expectation: { state } });
  });

  it('takes the container as it is written', () => {
    expect(parsed('a.wav\t350\t1200/50')).toMatchObject({
      expectation: { container: { capacity: 1200, lineStep: 50 } },
    });
  });

  it('passes over empty lines and remarks, and counts lines with them', () => {
    expect(parseList('\n# readings\na.wav\t1\tsofa', interpreter)).toEqual([
      { fault: expect.stringMatching(/^line 3: .*"sofa"/) as string },
    ]);
  });

  it.each([
    ['\t350\t1000/25', 'no path'],
    ['a.wav\t350', '"1000/25"'],
    ['a.wav\t350\t1000/0', '"1000/25"'],
    ['a.wav\tbanana\tstep', '"banana"'],
  ])('names what is wrong in %j', (row, words) => {
    expect(parsed(row)).toMatchObject({ fault: expect.stringContaining(words) as string });
  });
});

describe('When a recording is scored', () => {
  const heard = {
    outcome: 'taken',
    mL: null,
    candidates: [],
    soundAlike: false,
    command: null,
  } as const;
  it.each([
    [{ ...heard, mL: 350 }, { mL: 350 }, 'right'],
    [{ ...heard, mL: 315 }, { mL: 350 }, 'wrongUnflagged'],
    [{ ...heard, mL: 315, soundAlike: true }, { mL: 350 }, 'wrongFlagged'],
    [{ ...heard, outcome: 'doubtful', candidates: [315, 350] }, { mL: 350 }, 'rightInDoubt'],
    [{ ...heard, outcome: 'doubtful', candidates: [315] }, { mL: 350 }, 'wrongFlagged'],
    [{ ...heard, outcome: 'refused' }, { mL: 350 }, 'refused'],
    [{ ...heard, command: 'next' }, { mL: 350 }, 'wrongUnflagged'],
    [{ ...heard, command: 'next' }, { command: 'next' }, 'right'],
    [{ ...heard, command: 'back' }, { command: 'next' }, 'wrongUnflagged'],
    [{ ...heard, mL: 350 }, null, 'wrongUnflagged'],
    [{ ...heard, outcome: 'refused' }, null, 'refused'],
  ] as const)('%j for %j is %s', (one, want, result) => {
    expect(outcomeOf(one, want)).toBe(result);
  });

  it('counts a doubt with the right number half', () => {
    const rows = [
      { group: 'g', wanted: true, outcome: 'right', ms: 5 },
      { group: 'g', wanted: true, outcome: 'rightInDoubt', ms: 9 },
    ] as const;
    expect(tableOf(rows)).toContain('| g | 2 | 75.0 | 0.0 | 50.0 | 0.0 | 9 |');
  });

  it('gives talk no share of right', () => {
    const rows = [{ group: 't', wanted: false, outcome: 'refused', ms: 1 }] as const;
    expect(tableOf(rows)).toContain('| t | 1 | – | 0.0 | 0.0 | 100.0 | 1 |');
  });
});
