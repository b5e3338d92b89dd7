import { describe, expect, test } from 'vitest';
import { later, startWalk } from '../../tests/support/walkBench.ts';

/** To the first step, spoken and listening. */
async function atFirstStep(...more: Parameters<typeof startWalk>) {
  const walk = startWalk(...more);
  await walk.quiet();
  return walk;
}

async function atReading(...more: Parameters<typeof startWalk>) {
  const walk = await atFirstStep(...more);
  await walk.command('next');
  return walk;
}

async function settled(...more: Parameters<typeof startWalk>) {
  const walk = await atReading(...more);
  await walk.volume(400);
  await walk.command('confirm');
  return walk;
}

describe('When a walk starts', () => {
  test('it says what and where, calls the first step, and only then listens', async () => {
    const walk = await atFirstStep();
    expect(walk.spoken).toEqual([
      'Empty a short bag, Bed 4. Say next after each step.',
      'Put on gloves.',
    ]);
    expect(walk.state()).toBe('listening');
    expect(walk.open()).toBe('step');
  });

  test('a voice that fails does not stop it: the caption stands on the screen', async () => {
    const walk = await atFirstStep({}, { mute: /./ });
    expect(walk.state()).toBe('listening');
  });
});

describe('When listening at a step', () => {
  test('next calls the step that follows', async () => {
    const walk = await settled();
    expect(walk.spoken.at(-1)).toBe('four hundred milliliters, kept. Look at the urine.');
    await walk.command('next');
    expect(walk.spoken.at(-1)).toBe('Wash your hands.');
    expect(walk.context().index).toBe(3);
  });

  test('say again says the call once more, and moves nothing', async () => {
    const walk = await atFirstStep();
    await walk.command('again');
    expect(walk.spoken.slice(-2)).toEqual(['Put on gloves.', 'Put on gloves.']);
    expect(walk.context().index).toBe(0);
  });

  test.each([
    ['why', 'Why gloves.'],
    ['help', /You can say: next/],
    ['number', 'There is no number yet.'],
  ] as const)('%s is answered, and the step stands', async (command, answer) => {
    const walk = await atFirstStep();
    await walk.command(command);
    expect(walk.spoken.at(-1)).toMatch(answer);
    expect(walk.context().index).toBe(0);
    expect(walk.open()).toBe('step');
  });

  test('go back at the first step says so', async () => {
    const walk = await atFirstStep();
    await walk.command('back');
    expect(walk.spoken.at(-1)).toBe('This is the first step. Put on gloves.');
  });

  test('go back calls the step before', async () => {
    const walk = await settled();
    await walk.command('next', 'back');
    expect(walk.spoken.at(-1)).toBe('Look at the urine.');
  });

  test('talk is shown and moves nothing', async () => {
    const walk = await atFirstStep();
    const before = walk.spoken.length;
    await walk.send({ type: 'said.talk', words: 'okay dear two minutes', at: later(1) });
    expect(walk.context()).toMatchObject({ index: 0, talk: 'okay dear two minutes' });
    expect(walk.spoken).toHaveLength(before);
    await walk.command('next');
    expect(walk.context().talk).toBeNull();
  });

  test('a number, a confirmation or a dispute moves nothing', async () => {
    const walk = await atFirstStep();
    await walk.volume(400);
    await walk.command('confirm', 'dispute', 'addFill', 'noMore', 'carryOn');
    expect(walk.state()).toBe('listening');
    expect(walk.context()).toMatchObject({ index: 0, settled: null });
  });

  test('a look belongs to the look step only', async () => {
    const walk = await atFirstStep();
    const look = { type: 'said.look', codes: ['amber'], words: 'amber', at: later(2) } as const;
    await walk.send(look);
    expect(walk.context().looks).toEqual([]);
    const other = await settled();
    expect(other.open()).toBe('look');
    await other.send(look);
    expect(other.context().looks).toMatchObject([{ codes: ['amber'], words: 'amber' }]);
    expect(other.spoken.at(-1)).toBe('Noted: amber.');
  });
});

describe('When on hold', () => {
  test('only carry on moves it, and the step is called again', async () => {
    const walk = await atFirstStep();
    await walk.command('hold');
    expect(walk.open()).toBe('held');
    await walk.command('next', 'back', 'why');
    expect(walk.state()).toBe('held');
    await walk.command('carryOn');
    expect(walk.spoken.at(-1)).toBe('Carrying on. Put on gloves.');
  });

  test('the number can be asked for, and the reason for holding again', async () => {
    const walk = await settled();
    await walk.command('hold', 'number');
    expect(walk.spoken.at(-1)).toBe('You read four hundred milliliters.');
    expect(walk.state()).toBe('held');
    await walk.command('again');
    expect(walk.spoken.at(-1)).toBe('You read four hundred milliliters.');
  });

  test('a reading on its way is kept, and read back again afterwards', async () => {
    const walk = await atReading();
    await walk.volume(400);
    await walk.command('hold');
    expect(walk.reading()).toBe('paused');
    await walk.pass(120_000);
    expect(walk.reading()).toBe('paused');
    await walk.command('carryOn');
    expect(walk.spoken.at(-1)).toBe('four hundred milliliters. Correct?');
    await walk.command('confirm');
    expect(walk.context().settled?.amount).toBe(400);
  });

  test('a reading not begun is asked for again', async () => {
    const walk = await atReading();
    await walk.command('hold', 'carryOn');
    expect(walk.open()).toBe('reading');
  });
});

describe('When something is wrong', () => {
  test('the walk holds, keeps the moment, and the alert is raised', async () => {
    const walk = await atFirstStep();
    await walk.send({ type: 'said.alert', code: 'blood', words: 'there is blood', at: later(4) });
    expect(walk.state()).toBe('held');
    expect(walk.raised.at(-1)?.alerts).toMatchObject([
      { code: 'blood', words: 'there is blood', at: later(4), kept: false },
    ]);
    expect(walk.context().alerts).toMatchObject([{ code: 'blood', kept: true }]);
  });

  test('"something is wrong" does the same at a reading, which goes on after it', async () => {
    const walk = await atReading();
    await walk.command('wrong');
    expect(walk.context().alerts).toMatchObject([{ code: 'somethingWrong' }]);
    await walk.command('carryOn');
    expect(walk.open()).toBe('reading');
  });
});

describe('When the look step sees trouble', () => {
  test('it is noted, told and raised, and the look goes on after it', async () => {
    const walk = await settled();
    await walk.send({
      type: 'said.look',
      codes: ['cloudy', 'clots'],
      words: 'cloudy with clots',
      at: later(6),
    });
    expect(walk.context().looks).toHaveLength(1);
    expect(walk.raised.at(-1)?.alerts.map(({ code }) => code)).toEqual(['cloudy', 'clots']);
    expect(walk.spoken.at(-1)).toMatch(/^On hold\. .*Tell the nurse/);
    await walk.command('carryOn');
    expect(walk.open()).toBe('look');
  });
});

describe('When the person is marked at risk of dysreflexia', () => {
  test('a headache raises the warning first', async () => {
    const walk = await atFirstStep({ dysreflexiaRisk: true });
    await walk.send({ type: 'said.alert', code: 'headache', words: 'headache', at: later(4) });
    expect(walk.context().alerts.map(({ code }) => code)).toEqual(['dysreflexia', 'headache']);
    expect(walk.spoken.at(-1)).toMatch(/Sit the resident up/);
  });
});

describe('When the number was settled', () => {
  test('it can be asked for at every later step', async () => {
    const walk = await settled();
    for (let step = 2; step < 4; step++) {
      await walk.command('number');
      expect(walk.spoken.at(-1)).toBe('You read four hundred milliliters.');
      if (step < 3) await walk.command('next');
    }
  });

  test('coming back to the reading reads it back, and a new number takes its place', async () => {
    const walk = await settled();
    await walk.command('back');
    expect(walk.spoken.at(-1)).toBe('four hundred milliliters. Correct?');
    await walk.volume(450, { evidence: { alternatives: [], ear: 'typed', at: later(7) } });
    await walk.command('confirm');
    expect(walk.context().settled).toMatchObject({ amount: 450, readAt: later(7) });
    expect(walk.context().settled?.disputed.map((volume) => volume.mL)).toEqual([400]);
  });
});

describe('When documenting', () => {
  test('the entry is saved once, with the time of the reading, and the walk is done', async () => {
    const walk = await settled();
    await walk.command('next', 'next');
    expect(walk.state()).toBe('done');
    expect(walk.saved).toHaveLength(1);
    expect(walk.saved[0]?.settled).toMatchObject({ amount: 400, readAt: later(3) });
    expect(walk.context().savedAt).toEqual(later(9));
    expect(walk.spoken.at(-1)).toMatch(/^Entry saved: four hundred milliliters/);
  });

  test('a refused save says so, and is tried again by itself after 2 s, no sooner', async () => {
    const walk = await settled({}, { saves: 1 });
    await walk.command('next', 'next');
    expect(walk.state()).toBe('unsaved');
    expect(walk.spoken.at(-1)).toMatch(/not saved yet/);
    await walk.pass(1_999);
    expect(walk.saved).toHaveLength(0);
    await walk.pass(1);
    expect(walk.saved).toHaveLength(1);
  });

  test('the wait grows to 30 s while it keeps failing', async () => {
    const walk = await settled({}, { saves: 30 });
    await walk.command('next', 'next');
    for (let turn = 0; turn < 20; turn++) await walk.pass(30_000);
    const failures = walk.context().saveFailures;
    await walk.pass(29_999);
    expect(walk.context().saveFailures).toBe(failures);
    await walk.pass(1);
    expect(walk.context().saveFailures).toBe(failures + 1);
  });

  test('say again tries at once', async () => {
    const walk = await settled({}, { saves: 1 });
    await walk.command('next', 'next', 'again');
    expect(walk.saved).toHaveLength(1);
  });

  test('a parked number is asked for with clean hands, and then saved', async () => {
    const walk = await atReading();
    await walk.command('next', 'next');
    expect(walk.context().parked).toMatchObject({ outcome: 'parked', candidates: [] });
    await walk.command('next', 'next');
    expect(walk.state()).toBe('settling');
    expect(walk.spoken.at(-1)).toMatch(/Your hands are clean/);
    await walk.volume(275);
    await walk.command('confirm');
    expect(walk.saved[0]).toMatchObject({ settled: { amount: 275 }, parked: null });
  });

  test('a number left open again is saved as open', async () => {
    const walk = await atReading();
    await walk.command('next', 'next', 'next', 'next', 'next', 'next');
    expect(walk.saved[0]).toMatchObject({ settled: null, parked: { outcome: 'parked' } });
    expect(walk.spoken.at(-1)).toMatch(/still open/);
  });
});

describe('When the device can not keep the walk', () => {
  test('the context says so until it can again', async () => {
    const walk = await atFirstStep();
    await walk.send({ type: 'keep.failed' });
    expect(walk.context().keepFailing).toBe(true);
    expect(walk.spoken.at(-1)).toMatch(/can not keep the number on this device/);
    expect(walk.open()).toBe('step');
    await walk.send({ type: 'keep.mended' });
    expect(walk.context().keepFailing).toBe(false);
  });
});

describe('When the device can not keep the walk in the midst of a reading', () => {
  test('it says so before the next call, and the reading goes on', async () => {
    const walk = await atReading();
    await walk.send({ type: 'keep.failed' });
    expect(walk.open()).toBe('reading');
    await walk.volume(400);
    await walk.command('confirm');
    expect(walk.context().settled).toMatchObject({ amount: 400 });
  });
});

describe('When the ear fails', () => {
  test('at a step it is said aloud, once, and the buttons go on', async () => {
    const walk = await atFirstStep();
    walk.engine.tell({ type: 'engine.fault', fault: 'microphone_missing' });
    await walk.quiet();
    expect(walk.spoken.filter((text) => text.includes('There is no microphone'))).toHaveLength(1);
    await walk.command('next');
    expect(walk.context().index).toBe(1);
  });

  test('at a reading it is said aloud and the reading waits, its number kept', async () => {
    const walk = await atReading();
    await walk.volume(400);
    walk.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    await walk.quiet();
    expect(walk.spoken.at(-1)).toMatch(/^The microphone is not allowed/);
    expect(walk.state()).toBe('held');
    walk.actor.getSnapshot().children.ear?.send({ type: 'ear.retry' });
    await walk.command('carryOn', 'confirm');
    expect(walk.context().settled?.amount).toBe(400);
  });

  test('a refused microphone is told, and hearing again takes it back', async () => {
    const walk = await atFirstStep();
    walk.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    expect(walk.context().deaf).toBe('microphone_denied');
    await walk.quiet();
    walk.actor.getSnapshot().children.ear?.send({ type: 'ear.retry' });
    expect(walk.context().deaf).toBeNull();
  });

  test('a poor signal is shown and said, once, until something is understood', async () => {
    const walk = await atFirstStep();
    const tooLoud = () => walk.spoken.filter((text) => text.startsWith('It is too loud here.'));
    for (let turn = 0; turn < 3; turn++) {
      walk.engine.tell({ type: 'engine.poor', why: 'loud' });
      await walk.quiet();
      expect(walk.context().poor).toBe('loud');
      expect(walk.open()).toBe('step');
    }
    expect(tooLoud()).toHaveLength(1);
    await walk.command('again');
    expect(walk.context().poor).toBeNull();
    walk.engine.tell({ type: 'engine.poor', why: 'loud' });
    await walk.quiet();
    expect(tooLoud()).toHaveLength(2);
  });

  test('at a reading a poor signal is said, and the reading goes on listening', async () => {
    const walk = await atReading();
    walk.engine.tell({ type: 'engine.poor', why: 'faint' });
    await walk.quiet();
    expect(walk.spoken.at(-1)).toMatch(/^I hear you only faintly/);
    expect(walk.open()).toBe('reading');
  });

  test('a poor answer to a read-back agrees to nothing and is waited for again', async () => {
    const walk = await atReading();
    await walk.volume(400);
    walk.engine.tell({ type: 'engine.poor', why: 'loud' });
    await walk.quiet();
    expect(walk.spoken.at(-1)).toMatch(/^It is too loud here/);
    expect(walk.open()).toBe('readback');
    expect(walk.context().settled).toBeNull();
    await walk.command('confirm');
    expect(walk.context().settled?.amount).toBe(400);
  });
});

test('When a person abandons it, the walk ends and saves nothing', async () => {
  const walk = await atReading();
  await walk.send({ type: 'walk.abandon', reason: 'fire alarm' });
  expect(walk.state()).toBe('abandoned');
  expect(walk.saved).toEqual([]);
});
