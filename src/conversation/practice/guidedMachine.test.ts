import { describe, expect, test } from 'vitest';
import { guided, shortBag, startPractice } from '../../../tests/support/practiceBench.ts';

async function atFirst(
  ...more: Parameters<typeof startPractice> extends [unknown, ...infer R] ? R : []
) {
  const practice = startPractice(guided, ...more);
  await practice.quiet();
  return practice;
}

const calls = shortBag.steps.map(({ call }) => call);

describe('When guided practice starts', () => {
  test('it says that it is practice, calls the first step, and only then listens', async () => {
    const practice = await atFirst();
    expect(practice.spoken).toEqual([
      'Practice. Empty a urinary drainage bag. Say next after each step, or ask why.',
      calls[0],
    ]);
    expect(practice.open()).toBe('practice');
  });

  test('next cuts the greeting short', async () => {
    const practice = await atFirst({ endless: /^Practice/ });
    expect(practice.round()).toBe('greeting');
    await practice.command('next');
    expect(practice.said()).toBe(calls[0]);
  });

  test('a voice that fails does not stop it: the caption stands on the screen', async () => {
    const practice = await atFirst({ mute: /./ });
    await practice.command('why');
    expect(practice.round()).toBe('listening');
    await practice.command('next', 'next', 'next', 'next', 'next');
    expect(practice.state()).toBe('over');
  });
});

describe('When a step is called', () => {
  test('next calls the one that follows', async () => {
    const practice = await atFirst();
    await practice.command('next');
    expect(practice.said()).toBe(calls[1]);
  });

  test('why is answered with the reason and its source, and it goes on listening', async () => {
    const practice = await atFirst();
    await practice.command('why');
    expect(practice.said()).toBe(
      'Gloves come on before you touch anything that holds body fluid. Source: OSHA 29 CFR 1910.1030.',
    );
    expect(practice.open()).toBe('practice');
  });

  test('a step without a source gives its reason alone', async () => {
    const [first] = shortBag.steps;
    const bare = { ...shortBag, steps: [{ ...first!, sources: [] }] };
    const practice = startPractice({ mode: 'guided', procedure: bare });
    await practice.command('why');
    expect(practice.said()).toBe(first!.why);
  });

  test.each([
    ['help', /You can say: next, why/],
    ['number', 'Guided practice keeps no number.'],
    ['hold', 'Take your time. Practice waits for you.'],
    ['wrong', /^This is practice\. I told nobody/],
    ['again', calls[0]!],
    ['back', 'This is the first step.'],
  ] as const)('%s is answered and moves nothing', async (command, answer) => {
    const practice = await atFirst();
    const before = practice.spoken.length;
    await practice.command(command);
    expect(practice.spoken).toHaveLength(before + 1);
    expect(practice.said()).toMatch(answer);
    await practice.command('next');
    expect(practice.said()).toBe(calls[1]);
  });

  test('an alert is told to nobody, and it says so', async () => {
    const practice = await atFirst();
    await practice.send({
      type: 'said.alert',
      code: 'blood',
      words: 'blood',
      at: { ms: 0, offset: 0 },
    });
    expect(practice.said()).toMatch(/I told nobody/);
  });

  test('back calls the step before', async () => {
    const practice = await atFirst();
    await practice.command('next', 'back');
    expect(practice.said()).toBe(calls[0]);
  });

  test('next and back are taken while it speaks', async () => {
    const practice = await atFirst({ endless: /^(Open|Close|Gloves come)/ });
    await practice.command('next');
    expect(practice.round()).toBe('calling');
    await practice.command('back', 'why');
    expect(practice.round()).toBe('answering');
    await practice.command('next', 'next');
    expect(practice.said()).toBe(calls[2]);
  });
});

describe('When guided practice ends', () => {
  test('after the last step the round is kept with its steps', async () => {
    const practice = await atFirst();
    await practice.command('next', 'next', 'next', 'next', 'next');
    expect(practice.said()).toBe('That was the last step.');
    expect(practice.kept).toEqual([
      {
        kind: 'guided',
        procedure: 'drainage-bag',
        steps: 5,
        id: 'a-1',
        at: practice.context().startedAt,
      },
    ]);
  });

  test('stopped early, only the steps that were passed count, however often', async () => {
    const practice = await atFirst();
    await practice.command('next', 'next', 'back', 'back', 'stop');
    expect(practice.kept).toMatchObject([{ kind: 'guided', steps: 2 }]);
  });

  test('stopped before anything was done, nothing is kept', async () => {
    const practice = await atFirst();
    await practice.command('stop');
    expect(practice.state()).toBe('over');
    expect(practice.kept).toEqual([]);
  });
});
