import { describe, expect, test } from 'vitest';
import { candidates, later, startWalk, walkInput } from '../../tests/support/walkBench.ts';
import { millilitres } from '../measure/volume.ts';

/** At the reading step, its call spoken, the ear open for a volume. */
async function asked(...more: Parameters<typeof startWalk>) {
  const walk = startWalk(...more);
  await walk.command('next');
  return walk;
}

async function readBack(value: number, more = {}) {
  const walk = await asked();
  await walk.volume(value, more);
  return walk;
}

describe('When asking', () => {
  test('it says the call of the step and opens the ear for this container', async () => {
    const walk = await asked();
    expect(walk.spoken.at(-1)).toBe('Read the level.');
    expect(walk.expected.at(-1)).toMatchObject({
      state: 'reading',
      container: { id: 'graduate-1000' },
      fills: [],
    });
  });

  test('it reminds after 30 s of silence, no sooner, and takes nothing', async () => {
    const walk = await asked();
    await walk.pass(29_999);
    expect(walk.spoken.at(-1)).toBe('Read the level.');
    await walk.pass(1);
    expect(walk.spoken.at(-1)).toBe('I am listening for the volume.');
    expect(walk.reading()).toBe('listening');
    expect(walk.context().settled).toBeNull();
  });

  test.each([
    ['again', 'Read the level now. How many milliliters?'],
    ['help', /Say the volume, for example/],
    ['why', 'Why read.'],
    ['number', 'There is no number yet.'],
  ] as const)('%s is answered, and it goes on listening', async (command, answer) => {
    const walk = await asked();
    await walk.command(command);
    expect(walk.spoken.at(-1)).toMatch(answer);
    expect(walk.open()).toBe('reading');
  });

  test('next warns once; next again leaves the number open', async () => {
    const walk = await asked();
    await walk.command('next');
    expect(walk.spoken.at(-1)).toMatch(/I have no number yet/);
    expect(walk.context().index).toBe(1);
    await walk.command('next');
    expect(walk.context()).toMatchObject({ index: 2, parked: { candidates: [] } });
  });

  test('a confirmation without a number settles nothing', async () => {
    const walk = await asked();
    await walk.command('confirm', 'confirm');
    expect(walk.context().settled).toBeNull();
    expect(walk.reading()).toBe('listening');
  });
});

describe('When a volume was said', () => {
  test('it is read back before anything else', async () => {
    const walk = await readBack(350);
    expect(walk.spoken.at(-1)).toBe('three hundred fifty milliliters. Correct?');
    expect(walk.open()).toBe('readback');
    expect(walk.context().settled).toBeNull();
  });

  test.each([
    ['a sound-alike', { soundAlike: candidates(315) }],
    ['a doubtful hearing', { doubtful: true }],
  ])('%s is read back with its digits', async (_, more) => {
    const walk = await readBack(350, more);
    expect(walk.spoken.at(-1)).toBe('three hundred fifty: three, five, zero. Correct?');
  });

  test('two possible numbers are asked about', async () => {
    const walk = await asked();
    await walk.volume(null, { candidates: candidates(450, 50) });
    expect(walk.spoken.at(-1)).toBe('Did you mean four hundred fifty or fifty? Say the number.');
    expect(walk.reading()).toBe('listening');
  });

  test('an approximate number is asked for, and stands when it is said again', async () => {
    const walk = await asked();
    await walk.volume(300, { approximate: true });
    expect(walk.spoken.at(-1)).toMatch(/^About three hundred/);
    await walk.volume(300, { approximate: true });
    expect(walk.spoken.at(-1)).toBe('three hundred: three, zero, zero. Correct?');
  });

  test('several fills in one breath are read back with their sum', async () => {
    const walk = await asked();
    await walk.volume(1375, { fills: candidates(950, 425) });
    expect(walk.spoken.at(-1)).toMatch(
      /nine hundred fifty, and four hundred twenty five, together/,
    );
    await walk.command('confirm');
    expect(walk.context().settled?.amount).toBe(1375);
  });

  test('a voice that can not read it back leaves nothing to agree to', async () => {
    const walk = await asked({}, { mute: /Correct\?/ });
    await walk.volume(350);
    expect(walk.reading()).toBe('listening');
    await walk.command('confirm');
    expect(walk.context().settled).toBeNull();
  });
});

describe('When weighing finds something', () => {
  test('a number above the container is asked about however often it is said', async () => {
    const walk = await asked();
    await walk.volume(1025);
    expect(walk.spoken.at(-1)).toBe(
      'This container stops at one thousand. Look again, and say the line.',
    );
    await walk.volume(1025);
    expect(walk.spoken.at(-1)).toMatch(/^This container stops/);
    await walk.volume(1025);
    expect(walk.context().parked).toMatchObject({ candidates: [1025], tries: 3 });
  });

  test('a number between two lines is asked about, and stands when it is said again', async () => {
    const walk = await readBack(437);
    expect(walk.spoken.at(-1)).toMatch(/between four hundred twenty five and four hundred fifty/);
    await walk.volume(437);
    expect(walk.spoken.at(-1)).toBe('four hundred thirty seven milliliters. Correct?');
    await walk.command('confirm');
    expect(walk.context().settled?.findings).toMatchObject([
      { code: 'betweenLines', figures: { below: 425, above: 450 } },
    ]);
  });

  test('the line said in its place is read back', async () => {
    const walk = await readBack(437);
    await walk.volume(450);
    expect(walk.spoken.at(-1)).toBe('four hundred fifty milliliters. Correct?');
  });

  test('a sum above the bag is asked about', async () => {
    const walk = await asked();
    await walk.volume(2100, { fills: candidates(1000, 1000, 100) });
    expect(walk.spoken.at(-1)).toMatch(/more than the bag holds, two thousand/);
  });

  test('each fill of one breath is checked against the container', async () => {
    const walk = await asked();
    await walk.volume(1450, { fills: candidates(1050, 400) });
    expect(walk.spoken.at(-1)).toMatch(/This container stops at one thousand/);
  });

  test('nothing is a reading, and is told to the nurse', async () => {
    const walk = await readBack(0);
    await walk.command('confirm');
    expect(walk.context().settled).toMatchObject({ amount: 0, findings: [{ code: 'nothing' }] });
    expect(walk.spoken.at(-1)).toMatch(/Nothing came. Tell the nurse./);
  });
});

describe('When confirming', () => {
  test('the confirming phrase settles it, with the time of the reading', async () => {
    const walk = await readBack(350);
    await walk.command('confirm');
    expect(walk.context().settled).toMatchObject({
      amount: 350,
      readAt: later(3),
      answer: 'confirm',
      answeredAt: later(5),
      readBack: 'three hundred fifty milliliters. Correct?',
      tries: 0,
    });
  });

  test('the same number said again settles it', async () => {
    const walk = await readBack(350);
    await walk.volume(350);
    expect(walk.context().settled).toMatchObject({ amount: 350, answer: '350' });
  });

  test('the same number as "about" does not', async () => {
    const walk = await readBack(350);
    await walk.volume(350, { approximate: true });
    expect(walk.context().settled).toBeNull();
  });

  test('no asks again, and keeps what was disputed', async () => {
    const walk = await readBack(350);
    await walk.command('dispute');
    expect(walk.spoken.at(-1)).toBe('Say the volume again, please.');
    await walk.volume(325);
    await walk.command('confirm');
    expect(walk.context().settled).toMatchObject({ amount: 325, tries: 1 });
    expect(walk.context().settled?.disputed.map((volume) => volume.mL)).toEqual([350]);
  });

  test('a second no asks for the digits', async () => {
    const walk = await readBack(350);
    await walk.command('dispute');
    await walk.volume(325);
    await walk.command('dispute');
    expect(walk.spoken.at(-1)).toBe('Say it digit by digit, please.');
  });

  test('another number takes its place and is read back itself', async () => {
    const walk = await readBack(350);
    await walk.volume(400);
    expect(walk.spoken.at(-1)).toBe('four hundred milliliters. Correct?');
    await walk.command('confirm');
    expect(walk.context().settled?.amount).toBe(400);
  });

  test.each(['next', 'help', 'why'] as const)(
    '%s agrees to nothing: it says how',
    async (command) => {
      const walk = await readBack(350);
      await walk.command(command);
      expect(walk.spoken.at(-1)).toBe(
        'three hundred fifty milliliters. Correct? Say correct, or say the right number.',
      );
      expect(walk.context().settled).toBeNull();
      await walk.command('again');
      expect(walk.spoken.at(-1)).toBe('three hundred fifty milliliters. Correct?');
    },
  );

  test('the number can be asked for: it is read back', async () => {
    const walk = await readBack(350);
    await walk.command('number');
    expect(walk.spoken.slice(-2)).toEqual(Array(2).fill(walk.spoken.at(-1)));
  });

  test('say again reads it back again', async () => {
    const walk = await readBack(350);
    await walk.command('again');
    expect(walk.spoken.slice(-2)).toEqual(Array(2).fill(walk.spoken.at(-1)));
    expect(walk.open()).toBe('readback');
  });

  test('silence reads it back again after 12 s, no sooner, and never agrees', async () => {
    const walk = await readBack(350);
    const before = walk.spoken.length;
    await walk.pass(11_999);
    expect(walk.spoken).toHaveLength(before);
    await walk.pass(1);
    expect(walk.spoken).toHaveLength(before + 1);
    expect(walk.reading()).toBe('confirming');
  });

  test('silence three times parks it with its candidate', async () => {
    const walk = await readBack(350);
    for (let turn = 0; turn < 3; turn++) await walk.pass(12_000);
    expect(walk.context()).toMatchObject({
      settled: null,
      parked: { candidates: [350], readAt: later(3) },
      index: 2,
    });
  });

  test('three disputes park it, and the steps go on', async () => {
    const walk = await readBack(350);
    await walk.command('dispute');
    await walk.volume(325);
    await walk.command('dispute');
    await walk.volume(350);
    await walk.command('dispute');
    expect(walk.context()).toMatchObject({
      parked: { candidates: [350, 325], tries: 3 },
      index: 2,
    });
    expect(walk.spoken).toContain(
      'I leave the number open. We go on, and settle it when your hands are clean.',
    );
  });

  test('a third other number in a row parks it too', async () => {
    const walk = await readBack(350);
    await walk.volume(325);
    await walk.volume(375);
    await walk.volume(400);
    expect(walk.context().parked?.candidates).toEqual([350, 325, 375, 400]);
  });

  test('three questions without a usable answer park it', async () => {
    const walk = await asked();
    for (let turn = 0; turn < 3; turn++) {
      await walk.volume(null, { candidates: candidates(450, 50) });
    }
    expect(walk.context().parked).toMatchObject({ candidates: [450, 50], tries: 3 });
  });
});

describe('When one bag needs several fills', () => {
  test('add keeps the part, asks for the next, and the sum is agreed to', async () => {
    const walk = await readBack(950);
    await walk.command('addFill');
    expect(walk.spoken.at(-1)).toBe('Fill 2. How many milliliters?');
    expect(walk.expected.at(-1)).toMatchObject({ state: 'reading', fills: [950] });
    await walk.volume(425);
    expect(walk.spoken.at(-1)).toMatch(
      /together one thousand three hundred seventy five milliliters/,
    );
    await walk.command('confirm');
    expect(walk.context().settled?.amount).toBe(1375);
    expect(walk.context().settled?.fills.map((fill) => fill.mL)).toEqual([950, 425]);
  });

  test('"another four hundred twenty five" is a further fill, not another number', async () => {
    const walk = await readBack(950);
    await walk.volume(425, { further: true });
    await walk.volume(1375);
    expect(walk.context().settled?.amount).toBe(1375);
  });
});

test('no more and carry on take nothing and stop nothing', async () => {
  const walk = await asked();
  await walk.command('noMore', 'carryOn');
  expect(walk.reading()).toBe('listening');
  expect(walk.context()).toMatchObject({ settled: null, parked: null, index: 1 });
});

describe('When the rates of a first fill are low', () => {
  const six = 6 * 60;
  const circumstances = {
    ...walkInput.circumstances,
    earlier: [{ mL: millilitres(300), at: later(3 - six).ms }],
  };

  test('they are judged on the whole sum: a further fill takes them back', async () => {
    const walk = await asked({ circumstances });
    await walk.volume(100);
    await walk.command('addFill');
    await walk.volume(400);
    await walk.command('confirm');
    const codes = walk.context().settled?.findings.map(({ code }) => code);
    expect(codes).not.toContain('under30PerHour');
    expect(walk.spoken.some((text) => text.includes('Tell the nurse'))).toBe(false);
  });

  test('without a further fill they are told', async () => {
    const walk = await asked({ circumstances });
    await walk.volume(100);
    await walk.command('confirm');
    expect(walk.spoken.at(-1)).toMatch(/Tell the nurse/);
  });

  test('what is left open after a kept fill says nothing of rates, and keeps the fill', async () => {
    const walk = await asked({ circumstances });
    await walk.volume(100);
    await walk.command('addFill', 'next', 'next');
    expect(walk.context().parked).toMatchObject({ candidates: [100], fills: [{ mL: 100 }] });
    expect(walk.context().parked?.findings).toEqual([]);
  });

  test('a line missed in the first fill stays noted with the sum', async () => {
    const walk = await asked();
    await walk.volume(410);
    await walk.volume(410);
    await walk.command('addFill');
    await walk.volume(400);
    await walk.command('confirm');
    expect(walk.context().settled?.findings).toMatchObject([{ code: 'betweenLines' }]);
  });
});

test('on hold while the number is being left open, it stays left open', async () => {
  const faults = { long: /I leave the number open/ };
  const walk = await asked({}, faults);
  for (let turn = 0; turn < 3; turn++) await walk.volume(null, { candidates: candidates(450, 50) });
  expect(walk.reading()).toBe('parking');
  await walk.command('hold');
  faults.long = /^$/;
  await walk.command('carryOn');
  expect(walk.context().parked).toMatchObject({ candidates: [450, 50], tries: 3 });
});
