import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Expectation } from '../../src/grammar/expectation.ts';
import type { Ear, EarSignal, Hearing } from '../../src/speech/ear.ts';

/** One ear with somebody who can speak to it. */
export interface EarUnderTest {
  readonly ear: Ear;
  /** Say a phrase that is expected at a step. */
  say(phrase: string): void;
}

const step: Expectation = { state: 'step' };
const held: Expectation = { state: 'held' };

/** What every ear keeps, whatever engine stands behind it. */
export function keepsTheEarContract(name: string, make: () => EarUnderTest): void {
  describe(`When the ${name} ear is used through the port`, () => {
    let under: EarUnderTest;
    let told: EarSignal[];
    const tell = (signal: EarSignal): void => {
      told.push(signal);
    };
    const hearings = (): Hearing[] =>
      told.filter((signal) => signal.type === 'heard').map(({ hearing }) => hearing);
    const untilReady = () =>
      vi.waitFor(() => {
        expect(told).toContainEqual({ type: 'ready' });
      });
    const opened = async (): Promise<void> => {
      under.ear.open(step, tell);
      await untilReady();
    };

    beforeEach(() => {
      told = [];
      under = make();
    });

    it('bears its name', () => {
      expect(under.ear.name).toBe(name);
    });

    it('says that it listens, once, and not within the call', async () => {
      under.ear.open(step, tell);
      expect(told).toEqual([]);
      await untilReady();
      expect(told.filter(({ type }) => type === 'ready')).toHaveLength(1);
    });

    it('tells what was said, by which ear, and when', async () => {
      await opened();
      const before = Date.now();
      under.say('next');
      const [hearing] = hearings();
      expect(hearing).toMatchObject({ ear: name, fit: 'taken' });
      expect(hearing?.alternatives[0]?.transcript).toBe('next');
      expect(hearing?.at).toBeGreaterThanOrEqual(before);
      expect(hearing?.at).toBeLessThanOrEqual(Date.now());
    });

    it('tells utterances in their order', async () => {
      await opened();
      under.say('next');
      under.say('say again');
      expect(hearings().map(({ alternatives }) => alternatives[0]?.transcript)).toEqual([
        'next',
        'say again',
      ]);
    });

    it('goes on listening when something else is expected', async () => {
      await opened();
      under.ear.expect(held);
      under.say('carry on');
      expect(hearings()).toHaveLength(1);
      expect(told.some(({ type }) => type === 'ended' || type === 'fault')).toBe(false);
    });

    it('tells nothing any more once it is closed', async () => {
      await opened();
      const before = told.length;
      under.ear.close();
      under.say('next');
      await Promise.resolve();
      expect(told).toHaveLength(before);
    });

    it('may be closed twice, and before it was opened', () => {
      under.ear.close();
      under.ear.open(step, tell);
      under.ear.close();
      under.ear.close();
      expect(told).toEqual([]);
    });

    it('opened again tells the new listener only', async () => {
      await opened();
      const first = told;
      told = [];
      await opened();
      const before = first.length;
      under.say('next');
      expect(hearings()).toHaveLength(1);
      expect(first).toHaveLength(before);
    });
  });
}
