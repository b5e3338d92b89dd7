import { describe, expect, test } from 'vitest';
import { typedWalk } from '../../tests/support/typedWalk.ts';
import { later, startWalk } from '../../tests/support/walkBench.ts';
import { saidCommand } from './judged.ts';

async function walkThrough(
  commands: Parameters<ReturnType<typeof startWalk>['command']>,
  ...more: Parameters<typeof startWalk>
) {
  const walk = startWalk(...more);
  await walk.quiet();
  await walk.command(...commands);
  return walk;
}

/** The number was left open, the hands are clean, and it is asked for again. */
const settling = () => walkThrough(['next', 'next', 'next', 'next', 'next']);

describe('When a call is still being said', () => {
  test('the button for next goes on, and what is kept is said no more', async () => {
    const walk = await walkThrough([], {}, { long: /^Put on gloves/ });
    expect(walk.state()).toBe('calling');
    await walk.command('next');
    expect(walk.state()).toBe('reading');
  });

  test('the button for back calls the step before', async () => {
    const walk = await walkThrough(['next'], {}, { long: /Look at the urine/ });
    await walk.volume(400);
    await walk.command('confirm');
    expect(walk.state()).toBe('calling');
    await walk.command('back');
    expect(walk.state()).toBe('reading');
    expect(walk.context().index).toBe(1);
  });
});

describe('When the voice fails', () => {
  test.each([
    ['an answer', 'why', /^Why gloves/, 'listening'],
    ['why it holds', 'hold', /hold/i, 'held'],
  ] as const)('%s stands as a caption, and the walk goes on', async (_, command, mute, state) => {
    const walk = await walkThrough([command], {}, { mute });
    expect(walk.state()).toBe(state);
  });

  test('the call of a reading stands as a caption, and the ear opens', async () => {
    const walk = await walkThrough(['next'], {}, { mute: /Read the level/ });
    expect(walk.open()).toBe('reading');
  });

  test('the question about an unclear number stands as a caption, and is waited for', async () => {
    const walk = await walkThrough(['next'], {}, { mute: /or/ });
    await walk.volume(null, { candidates: [], evidence: evidence('almost four hundred') });
    expect(walk.open()).toBe('reading');
  });

  test('a number that was not agreed to is left open all the same', async () => {
    const walk = await walkThrough(['next'], {}, { mute: /open/ });
    await walk.command('next', 'next');
    expect(walk.context().parked).toMatchObject({ outcome: 'parked' });
    expect(walk.context().index).toBe(2);
  });

  test('that the entry is saved stands as a caption, and the walk ends', async () => {
    const walk = await walkThrough(['next'], {}, { mute: /^Entry saved/ });
    await walk.volume(400);
    await walk.command('confirm', 'next', 'next');
    expect(walk.saved).toHaveLength(1);
    expect(walk.state()).toBe('done');
  });

  test('that an answer was too loud to make out stands as a caption, and it is waited for', async () => {
    const walk = await walkThrough(['next'], {}, { mute: /too loud/ });
    await walk.volume(400);
    walk.engine.tell({ type: 'engine.poor', why: 'loud' });
    await walk.quiet();
    expect(walk.open()).toBe('readback');
  });
});

describe('When an episode is asked for and the call is still being said', () => {
  test('the button for next counts nothing and passes nothing over', async () => {
    const walk = typedWalk('unmeasured-episode', {}, { long: /one episode/i });
    await walk.until('count');
    const { index } = walk.context();
    expect(walk.state()).toBe('calling');
    await walk.command('next');
    expect(walk.context()).toMatchObject({ index, counted: null });
    expect(walk.state()).toBe('calling');
  });
});

describe('When an alarm is raised and the ledger refuses it', () => {
  test('what to tell is said all the same, and the alarm goes in with the entry', async () => {
    const walk = await walkThrough([], {}, { raises: 1 });
    await walk.send({ type: 'said.alert', code: 'blood', words: 'blood', at: later(6) });
    expect(walk.state()).toBe('held');
    expect(walk.raised).toEqual([]);
    expect(walk.context().alerts).toMatchObject([{ code: 'blood', kept: false }]);
  });
});

describe('When the ear fails on hold', () => {
  test('it is told, and what was read is still there', async () => {
    const walk = await walkThrough(['next']);
    await walk.volume(400);
    await walk.command('confirm', 'hold');
    walk.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    expect(walk.context().deaf).toBe('microphone_denied');
    expect(walk.state()).toBe('held');
    expect(walk.context().settled).toMatchObject({ amount: 400 });
  });
});

describe('When the entry is in the record and the walk came back to before it', () => {
  test('documenting again writes nothing a second time', async () => {
    const walk = await walkThrough(['next'], {}, { long: /^Entry saved/ });
    await walk.volume(400);
    await walk.command('confirm', 'next', 'next');
    expect(walk.state()).toBe('saved');
    await walk.send({ type: 'said.alert', code: 'pain', words: 'pain', at: later(9) });
    await walk.command('carryOn');
    expect(walk.state()).toBe('done');
    expect(walk.saved).toHaveLength(1);
  });
});

describe('When going back from a reading', () => {
  test('the step before is called, and the reading begins anew when it comes again', async () => {
    const walk = await walkThrough(['next', 'back']);
    expect(walk.spoken.at(-1)).toBe('Put on gloves.');
    await walk.command('next');
    expect(walk.open()).toBe('reading');
  });
});

describe('When an open number is settled with clean hands', () => {
  test('it can be disputed and said anew', async () => {
    const walk = await settling();
    await walk.volume(450);
    await walk.command('dispute');
    await walk.volume(400);
    await walk.command('confirm');
    expect(walk.saved[0]).toMatchObject({ settled: { amount: 400 } });
  });

  test('a further container can be added', async () => {
    const walk = await settling();
    await walk.volume(900);
    await walk.command('addFill');
    await walk.volume(300);
    await walk.command('confirm');
    expect(walk.saved[0]?.settled).toMatchObject({
      amount: 1200,
      fills: [{ mL: 900 }, { mL: 300 }],
    });
  });

  test.each(['again', 'help', 'number', 'why'] as const)(
    '%s is answered, and it is still asked for',
    async (command) => {
      const walk = await settling();
      const before = walk.spoken.length;
      await walk.command(command);
      expect(walk.spoken.length).toBeGreaterThan(before);
      expect(walk.state()).toBe('settling');
      expect(walk.open()).toBe('reading');
    },
  );

  test('going back calls the step before, and nothing is saved yet', async () => {
    const walk = await settling();
    await walk.command('back');
    expect(walk.spoken.at(-1)).toBe('Wash your hands.');
    expect(walk.saved).toEqual([]);
  });

  test('a hold keeps it, and after it the number still makes the entry', async () => {
    const walk = await settling();
    await walk.volume(275);
    await walk.command('hold');
    expect(walk.state()).toBe('held');
    await walk.command('carryOn');
    expect(walk.state()).toBe('settling');
    await walk.command('confirm');
    expect(walk.saved[0]).toMatchObject({ settled: { amount: 275 } });
    expect(walk.state()).toBe('done');
  });

  test('an alarm keeps it, and after it the number still makes the entry', async () => {
    const walk = await settling();
    await walk.send({ type: 'said.alert', code: 'pain', words: 'pain', at: later(6) });
    await walk.command('carryOn');
    await walk.volume(275);
    await walk.command('confirm');
    expect(walk.saved[0]).toMatchObject({ settled: { amount: 275 }, alerts: [{ code: 'pain' }] });
  });

  test('an ear that fails is said aloud, and the number waits', async () => {
    const walk = await settling();
    walk.engine.tell({ type: 'engine.fault', fault: 'microphone_denied' });
    await walk.quiet();
    expect(walk.spoken.at(-1)).toMatch(/^The microphone is not allowed/);
    expect(walk.state()).toBe('held');
  });

  test('a poor signal is said, and it goes on listening', async () => {
    const walk = await settling();
    walk.engine.tell({ type: 'engine.poor', why: 'faint' });
    await walk.quiet();
    expect(walk.spoken.at(-1)).toMatch(/^I hear you only faintly/);
    expect(walk.open()).toBe('reading');
  });
});

const evidence = (transcript: string) => ({
  alternatives: [{ transcript, confidence: 1 }],
  ear: 'typed' as const,
  at: later(3),
});

describe('When an utterance comes from the ear', () => {
  test('it is judged by what was expected, and acts as what it was judged to be', async () => {
    const walk = await walkThrough([], {}, { judge: () => saidCommand('next', 'next', later(2)) });
    const hearing = { ear: 'typed', alternatives: [], fit: 'taken', at: 0 } as const;
    walk.engine.tell({ type: 'engine.heard', hearing });
    await walk.quiet();
    expect(walk.state()).toBe('reading');
  });
});
