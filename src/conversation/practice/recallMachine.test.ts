import { describe, expect, test } from 'vitest';
import { recall, shortBag, startPractice } from '../../../tests/support/practiceBench.ts';

async function atFirst(faults: Parameters<typeof startPractice>[1] = {}) {
  const practice = startPractice(recall, faults);
  await practice.quiet();
  return practice;
}

const calls = shortBag.steps.map(({ call }) => call);
const own = [
  'put my gloves on',
  'open the spigot',
  'shut the valve',
  'pour it in the toilet',
  'take the gloves off',
];

const resultOf = (practice: Awaited<ReturnType<typeof atFirst>>) => {
  const [attempt] = practice.kept;
  if (attempt?.kind !== 'recall') throw new Error('no recall was kept');
  return attempt;
};

describe('When recall starts', () => {
  test('it asks for the first step, tells none, and listens for the words of this procedure', async () => {
    const practice = await atFirst();
    expect(practice.spoken).toHaveLength(1);
    expect(calls.filter((call) => practice.said()?.includes(call))).toEqual([]);
    expect(practice.open()).toBe('recall');
    expect(practice.expected.at(-1)).toEqual({
      state: 'recall',
      steps: shortBag.steps.map(({ keywords }) => keywords),
    });
  });
});

describe('When the trainee names the step that is due', () => {
  test('it is right in other words than ours, and only then is it heard', async () => {
    const practice = await atFirst();
    await practice.words(own[0]!);
    expect(practice.said()).toBe('Right. Put on clean gloves. What comes next?');
  });

  test('all in their turn: a clean round', async () => {
    const practice = await atFirst();
    for (const words of own) await practice.words(words);
    expect(practice.spoken.slice(-2)).toEqual([
      'Right. Take the gloves off, inside out, and bin them.',
      'That was the last step.',
    ]);
    expect(practice.state()).toBe('over');
    expect(resultOf(practice)).toMatchObject({
      picked: 0,
      result: { clean: true, complete: true, missed: [], outOfOrder: [] },
    });
  });

  test('steps chosen from the list are counted, the wrong choices not', async () => {
    const practice = await atFirst();
    await practice.words(calls[3]!, true);
    await practice.words(calls[0]!, true);
    await practice.words(own[1]!);
    await practice.command('stop');
    expect(resultOf(practice).picked).toBe(1);
  });
});

describe('When the order is wrong', () => {
  test('one critical step passed over is told as such, and not which', async () => {
    const practice = await atFirst();
    await practice.words('open the tap');
    expect(practice.said()).toBe(
      'That comes later. One step comes before that, and it must not be missed. What comes next?',
    );
  });

  test('of several, the critical ones are counted apart', async () => {
    const practice = await atFirst();
    for (const words of own.slice(0, 2)) await practice.words(words);
    await practice.words('take off my gloves');
    expect(practice.said()).toBe(
      'That comes later. 2 steps come before that. 1 of them must not be missed. What comes next?',
    );
    await practice.command('stop');
    expect(resultOf(practice).result).toMatchObject({
      outOfOrder: [{ named: 'gloves-off', due: 'close-tap' }],
      criticalPassedOver: ['close-tap'],
      complete: false,
    });
  });

  test('a step that is not critical is passed over without alarm', async () => {
    const practice = await atFirst();
    for (const words of own.slice(0, 3)) await practice.words(words);
    await practice.words('take off my gloves');
    expect(practice.said()).toBe('That comes later. One step comes before that. What comes next?');
  });

  test('a step named before is told as such', async () => {
    const practice = await atFirst();
    await practice.words(own[0]!);
    await practice.words('gloves on');
    expect(practice.said()).toBe('You have that step already. What comes next?');
  });

  test('words that name no step change nothing', async () => {
    const practice = await atFirst();
    await practice.words('the weather is nice');
    expect(practice.said()).toMatch(/^I find no step in those words/);
    expect(practice.open()).toBe('recall');
  });
});

describe('When the trainee does not know', () => {
  test('tell me: the step is said, critical marked, and counts as missed', async () => {
    const practice = await atFirst();
    await practice.command('tell');
    expect(practice.said()).toBe(
      'The step is: Put on clean gloves. It must not be missed. What comes next?',
    );
    await practice.words(own[1]!);
    await practice.command('stop');
    expect(resultOf(practice).result).toMatchObject({
      missed: ['gloves-on'],
      criticalMissed: ['gloves-on'],
      right: ['open-tap'],
    });
  });

  test('the last step may be told as well, and ends the round', async () => {
    const practice = await atFirst();
    await practice.command('tell', 'tell', 'tell', 'tell', 'tell');
    expect(practice.spoken.slice(-2)[0]).not.toMatch(/What comes next/);
    expect(resultOf(practice).result).toMatchObject({ complete: true, right: [] });
  });

  test('silence offers the way out after 25 s, no sooner, and tells nothing', async () => {
    const practice = await atFirst();
    await practice.pass(24_999);
    expect(practice.spoken).toHaveLength(1);
    await practice.pass(1);
    expect(practice.said()).toBe('Take your time. Say tell me to hear the step.');
    expect(practice.open()).toBe('recall');
  });

  test.each([
    ['help', /^Say the next step in your own words/],
    ['hold', /^Take your time/],
    ['back', /^There is no way back/],
    ['wrong', /^This is practice\. I told nobody/],
    ['why', 'Say the first step in your own words.'],
    ['again', /^Practice\. Empty/],
  ] as const)('%s is answered, tells no step and moves nothing', async (command, answer) => {
    const practice = await atFirst();
    await practice.command(command);
    expect(practice.spoken).toHaveLength(2);
    expect(practice.said()).toMatch(answer);
    await practice.words(own[0]!);
    expect(practice.said()).toMatch(/^Right\. Put on clean gloves/);
  });

  test('why gives the reason of the step that was passed, never of the one that is due', async () => {
    const practice = await atFirst();
    await practice.words(own[0]!);
    await practice.command('why');
    expect(practice.said()).toBe(shortBag.steps[0]!.why);
  });
});

describe('When recall ends early', () => {
  test('with nothing done, nothing is kept', async () => {
    const practice = await atFirst();
    await practice.command('stop');
    expect(practice.kept).toEqual([]);
  });

  test('a wrong order alone is worth keeping', async () => {
    const practice = await atFirst();
    await practice.words('open the tap');
    await practice.command('stop');
    expect(resultOf(practice).result.outOfOrder).toHaveLength(1);
  });

  test('a voice that fails does not stop it', async () => {
    const practice = await atFirst({ mute: /./ });
    for (const words of own) await practice.words(words);
    expect(resultOf(practice).result.clean).toBe(true);
  });
});
