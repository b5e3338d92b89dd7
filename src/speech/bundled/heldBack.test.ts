import { describe, expect, test } from 'vitest';
import { HeldBack } from './HeldBack.ts';

/** What went on to the search, of frames that are voice (v) or quiet (any other sign). */
function passed(frames: string): string {
  const heldBack = new HeldBack<string>();
  return [...frames].flatMap((frame) => [...heldBack.pass(frame, frame === 'v')]).join('');
}

describe('The quiet within an utterance', () => {
  test('goes along with the voice for 150 ms', () => {
    expect(passed(`vv${'q'.repeat(15)}`)).toBe(`vv${'q'.repeat(15)}`);
  });

  test('is kept back from then on', () => {
    expect(passed(`vv${'q'.repeat(60)}`)).toBe(`vv${'q'.repeat(15)}`);
  });

  test('is there in full as soon as the voice goes on', () => {
    const said = `vv${'q'.repeat(40)}vv`;
    expect(passed(said)).toBe(said);
  });

  test('of one utterance is not in the next', () => {
    const heldBack = new HeldBack<string>();
    for (let frame = 0; frame < 40; frame += 1) heldBack.pass('q', false);
    heldBack.drop();
    expect(heldBack.pass('v', true)).toEqual(['v']);
  });
});
