import { describe, expect, test } from 'vitest';
import { drill, guided, recall, startPractice } from '../../../tests/support/practiceBench.ts';
import { later } from '../../../tests/support/walkBench.ts';

async function begun(...given: Parameters<typeof startPractice>) {
  const practice = startPractice(...given);
  await practice.quiet();
  return practice;
}

describe('When a round begins', () => {
  test.each([
    ['guided', guided, { practising: 'guided' }],
    ['recall', recall, { practising: 'recalling' }],
    ['drill', drill, { practising: 'drilling' }],
  ])('%s runs its own machine', async (_, plan, state) => {
    expect((await begun(plan)).state()).toEqual(state);
  });
});

describe.each([
  ['guided', guided],
  ['recall', recall],
  ['drill', drill],
])('When the ear reports in %s', (_, plan) => {
  test('an utterance goes to be judged, with what was expected', async () => {
    const practice = await begun(plan);
    const hearing = { ear: 'typed', alternatives: [], fit: 'none', at: 0 } as const;
    practice.engine.tell({ type: 'engine.heard', hearing });
    expect(practice.interpreted).toMatchObject([{ type: 'ear.heard', hearing }]);
  });

  test('talk is shown until something else is said, and moves nothing', async () => {
    const practice = await begun(plan);
    const before = practice.spoken.length;
    await practice.send({ type: 'said.talk', words: 'see you later', at: later(1) });
    expect(practice.context().talk).toBe('see you later');
    expect(practice.spoken).toHaveLength(before);
    await practice.command('help');
    expect(practice.context().talk).toBeNull();
  });

  test('deafness and poor sound are shown until it hears again', async () => {
    const practice = await begun(plan);
    practice.engine.tell({ type: 'engine.poor', why: 'loud' });
    expect(practice.context().poor).toBe('loud');
    practice.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    expect(practice.context().deaf).toBe('microphone_denied');
    await practice.send({ type: 'ear.listening' });
    expect(practice.context()).toMatchObject({ deaf: null, poor: null });
  });
});

describe('When a round ends', () => {
  test('the ear is shut and the attempt is kept once, with its start', async () => {
    const practice = await begun(guided);
    await practice.command('next', 'stop');
    expect(practice.open()).toBeNull();
    expect(practice.kept).toMatchObject([{ id: 'a-1', at: practice.context().startedAt }]);
    expect(practice.context().kept).toBe(true);
    expect(practice.state()).toBe('over');
  });

  test('a device that refuses is asked again after 5 s, no sooner', async () => {
    const practice = await begun(guided, { keeps: 1 });
    await practice.command('next', 'stop');
    expect(practice.state()).toBe('unkept');
    await practice.pass(4_999);
    expect(practice.state()).toBe('unkept');
    await practice.pass(1);
    expect(practice.state()).toBe('over');
    expect(practice.kept).toHaveLength(1);
  });

  test('the trainee may go on without it', async () => {
    const practice = await begun(guided, { keeps: 9 });
    await practice.command('next', 'stop', 'stop');
    expect(practice.state()).toBe('over');
    expect(practice.context()).toMatchObject({ kept: false, attempt: { kind: 'guided' } });
  });
});
