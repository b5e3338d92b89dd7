import { describe, expect, test } from 'vitest';
import { typedWalk } from '../../tests/support/typedWalk.ts';

const roster = ['MK', 'TS'];

async function asked(...faults: Parameters<typeof typedWalk>[2][]) {
  const walk = typedWalk('unmeasured-episode', { roster }, faults[0]);
  await walk.until('count');
  await walk.say('correct');
  await walk.until('document');
  const signing = () => walk.actor.getSnapshot().children.signing?.getSnapshot().value;
  return { ...walk, signing };
}

async function readBack() {
  const walk = await asked();
  await walk.say('mike kilo');
  return walk;
}

describe('When initials are asked for', () => {
  test('it reminds after 30 s, no sooner, and after three leaves them open', async () => {
    const walk = await asked();
    const before = walk.spoken.length;
    await walk.pass(29_999);
    expect(walk.spoken).toHaveLength(before);
    await walk.pass(1);
    expect(walk.said()).toBe('I am listening for your initials.');
    await walk.pass(30_000);
    await walk.pass(30_000);
    expect(walk.spoken).toContain('I leave the initials open. The reviewer asks for them.');
    expect(walk.saved).toMatchObject([{ reader: null }]);
  });

  test.each([
    ['again', 'Say your initials, letter by letter.'],
    ['help', /Say the letters/],
    ['why', /Say the letters/],
  ] as const)('%s is answered', async (command, answer) => {
    const walk = await asked();
    await walk.command(command);
    expect(walk.said()).toMatch(answer);
    expect(walk.open()).toBe('initials');
  });

  test('a question that could not be said stands as a caption, and the ear opens', async () => {
    const walk = await asked({ mute: /initials/ });
    expect(walk.open()).toBe('initials');
    for (let turn = 0; turn < 3; turn++) await walk.pass(30_000);
    expect(walk.saved).toMatchObject([{ reader: null }]);
  });

  test('on hold, it asks anew afterwards', async () => {
    const walk = await asked();
    await walk.say('hold on');
    expect(walk.signing()).toBeUndefined();
    await walk.say('carry on');
    expect(walk.open()).toBe('initials');
  });

  test('go back leaves it for the step before', async () => {
    const walk = await asked();
    await walk.say('go back');
    expect(walk.said()).toBe('Wash your hands.');
  });
});

describe('When initials were said', () => {
  test('the same ones said again agree to them', async () => {
    const walk = await readBack();
    await walk.say('m k');
    expect(walk.saved).toMatchObject([{ reader: 'MK' }]);
  });

  test('other ones take their place; a third time they stay open', async () => {
    const walk = await readBack();
    await walk.say('tango sierra');
    expect(walk.said()).toBe('T, S. Correct?');
    await walk.say('mike kilo', 'tango sierra');
    expect(walk.saved).toMatchObject([{ reader: null }]);
  });

  test('no asks again; three times no leaves them open', async () => {
    const walk = await readBack();
    await walk.say('no');
    expect(walk.said()).toMatch(/Say your initials again/);
    await walk.say('m k', 'no', 'm k', 'no');
    expect(walk.saved).toMatchObject([{ reader: null }]);
  });

  test.each(['next', 'help'] as const)('%s agrees to nothing: it says how', async (command) => {
    const walk = await readBack();
    await walk.command(command);
    expect(walk.said()).toBe('M, K. Correct? Say correct, or say your initials.');
    await walk.command('again');
    expect(walk.said()).toBe('M, K. Correct?');
    expect(walk.saved).toEqual([]);
  });

  test('silence reads them back after 12 s, no sooner; thrice leaves them open', async () => {
    const walk = await readBack();
    const before = walk.spoken.length;
    await walk.pass(11_999);
    expect(walk.spoken).toHaveLength(before);
    await walk.pass(1);
    expect(walk.spoken).toHaveLength(before + 1);
    await walk.pass(12_000);
    await walk.pass(12_000);
    expect(walk.saved).toMatchObject([{ reader: null }]);
  });

  test('a read-back that could not be said is nothing to agree to', async () => {
    const walk = await asked({ mute: /M, K/ });
    await walk.say('mike kilo');
    expect(walk.open()).toBe('initials');
  });
});
