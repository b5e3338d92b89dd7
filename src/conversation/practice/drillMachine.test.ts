import { describe, expect, test } from 'vitest';
import { drill, startPractice } from '../../../tests/support/practiceBench.ts';
import { candidates } from '../../../tests/support/walkBench.ts';
import { millilitres as mL } from '../../measure/volume.ts';

const wide = { ...drill, tolerance: mL(50) };

type Practice = ReturnType<typeof startPractice>;

async function asked(faults: Parameters<typeof startPractice>[1] = {}, plan = drill) {
  const practice = startPractice(plan, faults);
  await practice.quiet();
  return practice;
}

async function read(value: number, plan = drill) {
  const practice = await asked({}, plan);
  await practice.volume(value);
  await practice.command('confirm');
  return practice;
}

const readingsOf = (practice: Practice) => {
  const [attempt] = practice.kept;
  if (attempt?.kind !== 'drill') throw new Error('no drill was kept');
  return attempt.readings.map(({ level, said, judgement }) => [level, said, judgement.within]);
};

describe('When a level is drawn', () => {
  test('it asks, tells no number, and opens the ear for this container', async () => {
    const practice = await asked();
    expect(practice.spoken).toEqual([
      'Reading practice, two levels. Look at the picture and say the line.',
    ]);
    expect(practice.expected.at(-1)).toMatchObject({
      state: 'reading',
      container: { id: 'graduate-1000' },
      fills: [],
    });
  });

  test.each([
    ['again', 'Level one of two. How many milliliters?'],
    ['back', 'Level one of two. How many milliliters?'],
    ['why', /^Read from above or below/],
    ['help', /^Say the line, for example/],
    ['hold', /^Take your time/],
    ['wrong', /^This is practice\. I told nobody/],
    ['next', 'Say the line that you read first.'],
    ['number', 'Say the line that you read first.'],
    ['addFill', 'Say the line that you read first.'],
    ['noMore', 'Say the line that you read first.'],
  ] as const)('%s is answered, and it goes on listening', async (command, answer) => {
    const practice = await asked();
    await practice.command(command);
    expect(practice.said()).toMatch(answer);
    expect(practice.open()).toBe('reading');
  });

  test('an alert is told to nobody, and it says so', async () => {
    const practice = await asked();
    await practice.send({ type: 'said.alert', code: 'blood', words: '', at: { ms: 0, offset: 0 } });
    expect(practice.said()).toMatch(/I told nobody/);
  });

  test.each([
    [
      'several numbers',
      null,
      { candidates: candidates(350, 315) },
      /^Did you mean three hundred fifty or/,
    ],
    ['no number', null, {}, 'I am not sure of the number. Say it again.'],
    ['about', 350, { approximate: true }, 'Not about: say the line that you read.'],
  ])('%s is asked about, not judged', async (_, value, more, answer) => {
    const practice = await asked();
    await practice.volume(value, more);
    expect(practice.said()).toMatch(answer);
    expect(practice.open()).toBe('reading');
  });
});

describe('When a number was said', () => {
  test('it is read back, and judged only once it is agreed to', async () => {
    const practice = await asked();
    await practice.volume(350);
    expect(practice.said()).toBe('three hundred fifty milliliters. Correct?');
    expect(practice.open()).toBe('readback');
    await practice.command('confirm');
    expect(practice.said()).toBe('Right: three hundred fifty milliliters. Say next.');
  });

  test.each([
    ['a doubtful hearing', { doubtful: true }],
    ['a sound-alike', { soundAlike: candidates(315) }],
  ])('%s is read back with its digits', async (_, more) => {
    const practice = await asked();
    await practice.volume(350, more);
    expect(practice.said()).toBe('three hundred fifty: three, five, zero. Correct?');
  });

  test('the same number again agrees', async () => {
    const practice = await asked();
    await practice.volume(350);
    await practice.volume(350);
    expect(practice.said()).toMatch(/^Right/);
  });

  test('another number takes its place, and a misheard one counts against nobody', async () => {
    const practice = await asked();
    await practice.volume(315);
    await practice.volume(350);
    await practice.command('confirm', 'stop');
    expect(readingsOf(practice)).toEqual([[350, 350, true]]);
  });

  test('no asks again', async () => {
    const practice = await asked();
    await practice.volume(315);
    await practice.command('dispute');
    expect(practice.said()).toBe('Look again, and say the line.');
    await practice.command('confirm', 'stop');
    expect(practice.kept).toEqual([]);
  });

  test.each([
    ['again', 'three hundred fifty milliliters. Correct?'],
    ['number', 'three hundred fifty milliliters. Correct?'],
    ['help', 'Say correct, or say the right number.'],
    ['hold', /^Take your time/],
    ['wrong', /I told nobody/],
  ] as const)('%s is answered, and the number still stands', async (command, answer) => {
    const practice = await asked();
    await practice.volume(350);
    await practice.command(command);
    expect(practice.said()).toMatch(answer);
    expect(practice.open()).toBe('readback');
    await practice.command('confirm');
    expect(practice.said()).toMatch(/^Right/);
  });
});

describe('When a reading is judged', () => {
  test.each([
    [325, 'Within twenty five: twenty five too little. The line is three hundred fifty. Say next.'],
    [375, 'Within twenty five: twenty five too much. The line is three hundred fifty. Say next.'],
    [300, 'Not yet: fifty too little. The line is three hundred fifty. Say next.'],
    [
      376,
      'Not yet: twenty six too much. The line is three hundred fifty. three hundred seventy six is no line of this container. Say next.',
    ],
  ])('350 drawn, %i said', async (value, answer) => {
    expect((await read(value)).said()).toBe(answer);
  });

  test('a wider tolerance is a setting', async () => {
    const practice = await read(400, wide);
    expect(practice.said()).toMatch(/^Within fifty: fifty too much/);
  });

  test('between two lines it says which, and the line to say', async () => {
    const practice = await read(350);
    await practice.command('next');
    await practice.volume(412);
    await practice.command('confirm');
    expect(practice.said()).toBe(
      'The level is right, within twenty five. The line to say is four hundred. four hundred twelve is no line of this container. The level is between four hundred and four hundred twenty five. Say next.',
    );
  });

  test.each([
    ['again', /^Right: three hundred fifty/],
    ['number', /^Right: three hundred fifty/],
    ['why', /^Read from above/],
    ['back', 'Say next.'],
    ['help', 'Say next.'],
    ['hold', /^Take your time/],
    ['wrong', /I told nobody/],
  ] as const)('%s is answered, and the picture stays', async (command, answer) => {
    const practice = await read(350);
    await practice.command(command);
    expect(practice.said()).toMatch(answer);
    expect(practice.round()).toBe('told');
    expect(practice.open()).toBe('practice');
  });

  test('an alert before it is agreed to is told to nobody, and the number still stands', async () => {
    const practice = await asked();
    await practice.volume(350);
    await practice.send({ type: 'said.alert', code: 'blood', words: '', at: { ms: 0, offset: 0 } });
    expect(practice.said()).toMatch(/I told nobody/);
    expect(practice.open()).toBe('readback');
  });

  test('an alert afterwards is told to nobody', async () => {
    const practice = await read(350);
    await practice.send({ type: 'said.alert', code: 'blood', words: '', at: { ms: 0, offset: 0 } });
    expect(practice.said()).toMatch(/I told nobody/);
  });

  test('next shows the level that follows, also while it speaks', async () => {
    const practice = await asked({ endless: /^Right/ });
    await practice.volume(350);
    await practice.command('confirm', 'next');
    expect(practice.said()).toBe('Level two of two. How many milliliters?');
  });
});

describe('When the drill ends', () => {
  test('after the last level the round is kept with its seed and tolerance', async () => {
    const practice = await read(350);
    await practice.command('next');
    await practice.volume(500);
    await practice.command('confirm', 'next');
    expect(practice.said()).toBe('That was the last level.');
    expect(practice.state()).toBe('over');
    expect(practice.kept).toMatchObject([{ kind: 'drill', seed: 7, tolerance: 25 }]);
    expect(readingsOf(practice)).toEqual([
      [350, 350, true],
      [412, 500, false],
    ]);
  });

  test('a voice that fails does not stop it', async () => {
    const practice = await asked({ mute: /./ });
    for (const value of [350, 400]) {
      await practice.volume(value);
      await practice.command('help', 'confirm', 'next');
    }
    expect(readingsOf(practice)).toHaveLength(2);
  });
});
