import { describe, expect, it } from 'vitest';
import { Endpointer, endpointerSettings, type EndpointerStep } from './endpointer.ts';

const { hang, longest, startFrames } = endpointerSettings;

/** Feed frames of one likelihood. @returns what each step said, without repeats */
const feed = (endpointer: Endpointer, voice: number, frames: number): EndpointerStep[] => {
  const steps = Array.from({ length: frames }, () => endpointer.step(voice));
  return steps.filter((step, index) => step !== steps[index - 1]);
};

describe('When nobody speaks', () => {
  it('stays quiet for a minute', () => {
    expect(feed(new Endpointer(), 0.1, 6_000)).toEqual(['quiet']);
  });

  it('stays quiet at a click', () => {
    const endpointer = new Endpointer();
    expect(feed(endpointer, 0.9, startFrames - 1)).toEqual(['quiet']);
    expect(feed(endpointer, 0, 100)).toEqual(['quiet']);
  });
});

describe('When somebody speaks', () => {
  it('starts with the first frames of voice and ends a hang after the last', () => {
    const endpointer = new Endpointer();
    expect(feed(endpointer, 0.9, startFrames)).toEqual(['quiet', 'start']);
    expect(feed(endpointer, 0.9, 100)).toEqual(['speech']);
    expect(feed(endpointer, 0, hang - endpointerSettings.forgiven - 1)).toEqual(['speech']);
    expect(feed(endpointer, 0, endpointerSettings.forgiven + 1)).toContain('end');
    expect(endpointer.speaking).toBe(false);
  });

  it('waits longer for slow speech, once it is told to', () => {
    const endpointer = new Endpointer();
    endpointer.hang = 150;
    feed(endpointer, 0.9, 30);
    expect(feed(endpointer, 0, 140)).toEqual(['speech']);
    expect(feed(endpointer, 0, 20)).toContain('end');
  });

  it('waits a second, no longer, while more digits are to be expected', () => {
    const endpointer = new Endpointer();
    feed(endpointer, 0.9, 30);
    const steps = Array.from({ length: 110 }, () => endpointer.step(0, () => true));
    expect(steps.indexOf('end')).toBeGreaterThan(90);
    expect(steps.indexOf('end')).toBeLessThan(105);
  });

  it('goes on through a breath and through a weak F', () => {
    const endpointer = new Endpointer();
    feed(endpointer, 0.9, 30);
    expect(feed(endpointer, 0, 40)).toEqual(['speech']);
    expect(feed(endpointer, 0.3, 200)).toEqual(['speech']);
  });

  it('cuts an utterance that never ends', () => {
    const endpointer = new Endpointer();
    feed(endpointer, 0.9, startFrames);
    expect(feed(endpointer, 0.9, longest)).toEqual(['speech', 'end']);
  });

  it('hears two utterances as two', () => {
    const endpointer = new Endpointer();
    for (const turn of [1, 2]) {
      expect(feed(endpointer, 0.9, 50), `utterance ${turn}`).toContain('start');
      expect(feed(endpointer, 0, 2 * hang), `utterance ${turn}`).toContain('end');
    }
  });
});
