import { describe, expect, test } from 'vitest';
import { typedWalk } from '../../tests/support/typedWalk.ts';

async function atTray(...faults: Parameters<typeof typedWalk>[2][]) {
  const walk = typedWalk('oral-intake', {}, faults[0]);
  await walk.until('intake');
  const tray = () => walk.actor.getSnapshot().children.tray?.getSnapshot();
  return { ...walk, tray, kept: () => tray()?.context.kept.map(({ mL }) => mL) };
}

async function readBack() {
  const walk = await atTray();
  await walk.say('juice, half');
  return walk;
}

async function summed() {
  const walk = await readBack();
  await walk.say('correct', "that's all");
  return walk;
}

describe('When a tray is asked for', () => {
  test('it says the call, and listens for servings', async () => {
    const walk = await atTray();
    expect(walk.said()).toBe('For each drink, tell me how much of it was drunk.');
    expect(walk.open()).toBe('tray');
  });

  test('it reminds after 30 s of silence, no sooner', async () => {
    const walk = await atTray();
    const before = walk.spoken.length;
    await walk.pass(29_999);
    expect(walk.spoken).toHaveLength(before);
    await walk.pass(1);
    expect(walk.said()).toBe('I am listening for a drink. Or say: that is all.');
  });

  test.each([
    ['again', 'Which drink, and how much of it?'],
    ['help', /Say the drink and what is gone/],
    ['why', /Say the drink and the part that is gone/],
    ['number', 'There is no number yet.'],
    ['noMore', 'Which drink, and how much of it?'],
  ] as const)('%s is answered, and it goes on listening', async (command, answer) => {
    const walk = await atTray();
    await walk.command(command);
    expect(walk.said()).toMatch(answer);
    expect(walk.open()).toBe('tray');
  });

  test('next warns once; next again leaves the tray open with what was kept', async () => {
    const walk = await readBack();
    await walk.say('correct', 'next');
    expect(walk.said()).toMatch(/say next again to leave it open/);
    await walk.say('next');
    expect(walk.context()).toMatchObject({ settled: null, parked: { fills: [{ mL: 60 }] } });
    await walk.until('document');
    expect(walk.state()).toBe('settling');
    await walk.say("that's all", 'correct');
    expect(walk.saved[0]?.settled?.fills.map(({ mL }) => mL)).toEqual([60]);
  });

  test('a confirmation without a serving keeps nothing', async () => {
    const walk = await atTray();
    await walk.command('confirm', 'dispute', 'carryOn', 'addFill');
    expect(walk.kept()).toEqual([]);
  });
});

describe('When a serving was named', () => {
  test.each([
    ['juice, half', 'juice, half: sixty milliliters. Correct?'],
    ['coffee, one hundred left', 'coffee or tea, one hundred left: one hundred forty milliliters'],
    ['ice chips half', 'ice chips, half: sixty milliliters'],
    ['milk none', 'milk, none: zero milliliters'],
  ])('"%s" is read back as what counts', async (words, answer) => {
    const walk = await atTray();
    await walk.say(words);
    expect(walk.said()).toContain(answer);
    expect(walk.kept()).toEqual([]);
    expect(walk.open()).toBe('trayReadback');
  });

  test('more left than was served is asked about, three times, then left open', async () => {
    const walk = await atTray();
    await walk.say('juice two hundred left');
    expect(walk.said()).toMatch(/The juice holds one hundred twenty milliliters/);
    await walk.say('juice two hundred left', 'juice two hundred left');
    expect(walk.context().parked).toMatchObject({ fills: [], tries: 3 });
  });

  test('the same serving said again agrees to it', async () => {
    const walk = await readBack();
    await walk.say('half of the juice');
    expect(walk.kept()).toEqual([60]);
  });

  test('another serving takes its place, and is read back itself', async () => {
    const walk = await readBack();
    await walk.say('juice all');
    expect(walk.said()).toMatch(/^juice, all of it: one hundred twenty/);
    await walk.say('correct');
    expect(walk.kept()).toEqual([120]);
  });

  test('a third other serving in a row leaves the tray open', async () => {
    const walk = await readBack();
    await walk.say('juice all', 'juice a third', 'juice a quarter');
    expect(walk.context().parked).toMatchObject({ outcome: 'parked', tries: 3 });
  });

  test('no asks again; three times no leaves the tray open', async () => {
    const walk = await readBack();
    await walk.say('no');
    expect(walk.said()).toBe('Say the drink again, and how much of it.');
    await walk.say('juice half', 'no', 'juice half', 'no');
    expect(walk.context().parked?.disputed).toHaveLength(3);
  });

  test.each(['next', 'help', 'why', 'noMore'] as const)(
    '%s agrees to nothing: it says how',
    async (command) => {
      const walk = await readBack();
      await walk.command(command);
      expect(walk.said()).toMatch(/Correct\? Say correct, or say no\.$/);
      expect(walk.kept()).toEqual([]);
    },
  );

  test.each(['again', 'number'] as const)('%s reads it back again', async (command) => {
    const walk = await readBack();
    await walk.command(command);
    expect(walk.spoken.slice(-2)).toEqual(
      Array(2).fill('juice, half: sixty milliliters. Correct?'),
    );
  });

  test('silence reads it back again after 12 s, no sooner; thrice leaves it open', async () => {
    const walk = await readBack();
    const before = walk.spoken.length;
    await walk.pass(11_999);
    expect(walk.spoken).toHaveLength(before);
    await walk.pass(1);
    expect(walk.spoken).toHaveLength(before + 1);
    await walk.pass(12_000);
    await walk.pass(12_000);
    expect(walk.context().parked).toMatchObject({ fills: [], disputed: [{ mL: 60 }] });
  });

  test('a read-back that could not be said is nothing to agree to', async () => {
    const walk = await atTray({ mute: /Correct/ });
    await walk.say('juice, half');
    expect(walk.open()).toBe('tray');
    expect(walk.kept()).toEqual([]);
  });

  test('a call that could not be said stands as a caption, and the ear opens', async () => {
    const walk = await atTray({ mute: /how much of it/ });
    expect(walk.open()).toBe('tray');
  });

  test('it is left open even where that could not be said', async () => {
    const walk = await atTray({ mute: /open/ });
    await walk.say('next', 'next');
    expect(walk.context()).toMatchObject({ settled: null, parked: { outcome: 'parked' } });
  });

  test('holding keeps it, and reads it back afterwards', async () => {
    const walk = await readBack();
    await walk.say('hold on');
    expect(walk.tray()?.value).toBe('paused');
    await walk.say('carry on');
    expect(walk.said()).toBe('juice, half: sixty milliliters. Correct?');
    await walk.say('correct', 'hold on', 'carry on');
    expect(walk.said()).toBe('Next drink? Or say: that is all.');
  });
});

describe('When the tray is summed', () => {
  test('the sum is settled only when agreed to', async () => {
    const walk = await summed();
    expect(walk.said()).toBe('All together: sixty milliliters estimated. Correct?');
    expect(walk.context().settled).toBeNull();
    await walk.say('correct');
    expect(walk.context().settled).toMatchObject({ amount: 60, answer: 'correct' });
  });

  test('no takes the last serving back, and asks on', async () => {
    const walk = await summed();
    await walk.say('no');
    expect(walk.said()).toBe('I took back juice, half. Next drink? Or say: that is all.');
    expect(walk.kept()).toEqual([]);
  });

  test('a serving that was forgotten is added', async () => {
    const walk = await summed();
    await walk.say('milk all', 'correct');
    expect(walk.kept()).toEqual([60, 240]);
  });

  test('coming back to the tray reads its sum back', async () => {
    const walk = await summed();
    await walk.say('correct', 'go back');
    expect(walk.said()).toBe('All together: sixty milliliters estimated. Correct?');
  });

  test('the number can be asked for at every later step', async () => {
    const walk = await summed();
    await walk.say('correct', 'what was the number');
    expect(walk.said()).toBe('You told me sixty milliliters estimated.');
  });
});

test('on hold while the tray is being left open, it stays left open', async () => {
  const faults = { long: /I leave the tray open/ };
  const walk = await atTray(faults);
  await walk.say('juice half', 'no', 'juice half', 'no', 'juice half', 'no');
  expect(walk.tray()?.value).toBe('parking');
  await walk.command('hold');
  faults.long = /^$/;
  await walk.command('carryOn');
  expect(walk.context().parked).toMatchObject({ outcome: 'parked', tries: 3 });
});
