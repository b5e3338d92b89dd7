import { describe, expect, test } from 'vitest';
import { typedWalk } from '../../tests/support/typedWalk.ts';

async function onScale() {
  const walk = typedWalk('weighed-pad');
  await walk.until('weigh');
  return walk;
}

describe('When a pad lies on the scale', () => {
  test('it reminds after 30 s, no sooner', async () => {
    const walk = await onScale();
    await walk.pass(29_999);
    expect(walk.said()).toBe('Lay the pad on the scale: tell me the grams.');
    await walk.pass(1);
    expect(walk.said()).toBe('I am listening for the grams.');
  });

  test('less than it weighs dry is asked again, however often it is said, then left open', async () => {
    const walk = await onScale();
    await walk.say('sixty one grams');
    expect(walk.said()).toMatch(/^sixty one grams is less than this product weighs dry, sixty two/);
    await walk.say('sixty one grams', 'sixty one grams');
    expect(walk.context().parked).toMatchObject({ outcome: 'parked', candidates: [] });
  });

  test('exactly its dry weight is nothing, and read back like any other', async () => {
    const walk = await onScale();
    await walk.say('sixty two grams');
    expect(walk.said()).toBe('sixty two grams: six, two. Correct?');
    await walk.say('correct');
    expect(walk.context().settled?.amount).toBe(0);
  });

  test('a volume or a command for fills is no weight', async () => {
    const walk = await onScale();
    await walk.say('four hundred milliliters', 'add');
    expect(walk.context().talk).toBe('add');
    await walk.say('four hundred twelve');
    const before = walk.spoken.length;
    await walk.say('add');
    expect(walk.spoken).toHaveLength(before);
  });

  test('three disputes leave it open, and it is settled with clean hands', async () => {
    const walk = await onScale();
    await walk.say('four hundred', 'no', 'four hundred', 'no');
    expect(walk.said()).toBe('Say it digit by digit, please.');
    await walk.say('four hundred', 'no');
    expect(walk.context().parked?.candidates).toEqual([338]);
    await walk.until('document');
    await walk.say('four one two', 'correct');
    expect(walk.saved[0]?.settled).toMatchObject({ amount: 350, fills: [{ wet: 412 }] });
  });

  test('soiled at the read-back refuses the weight', async () => {
    const walk = await onScale();
    await walk.say('four hundred', 'it is soiled');
    expect(walk.context()).toMatchObject({
      procedure: { id: 'unmeasured-episode' },
      settled: null,
      readingOpen: false,
    });
  });
});

describe('When an episode is counted', () => {
  async function atCount() {
    const walk = typedWalk('unmeasured-episode');
    await walk.until('count');
    return walk;
  }

  test('it is asked, and next alone counts nothing', async () => {
    const walk = await atCount();
    expect(walk.said()).toMatch(/One episode, not measured\. Correct\?$/);
    await walk.say('next step');
    expect(walk.said()).toMatch(/^Say correct to count one episode/);
    await walk.say('no', 'what can i say');
    expect(walk.context()).toMatchObject({ counted: null });
    await walk.say('correct');
    expect(walk.said()).toMatch(/^One episode, counted\./);
    await walk.say('what was the number');
    expect(walk.said()).toBe('One episode is counted. There is no amount.');
  });

  test('once counted, coming back does not count it again', async () => {
    const walk = await atCount();
    await walk.say('correct', 'go back', 'next step');
    await walk.toEnd();
    expect(walk.saved).toHaveLength(1);
    expect(walk.said()).toMatch(/Entry saved: one episode, not measured/);
  });
});
