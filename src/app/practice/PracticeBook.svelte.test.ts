import { describe, expect, test } from 'vitest';
import { noon } from '../../../tests/support/walkBench.ts';
import { millilitres as mL } from '../../measure/volume.ts';
import type { Result } from '../../storage/ledger.ts';
import { noPractice, practiceOf, type KeptAttempt } from './keptAttempts.ts';
import { PracticeBook } from './PracticeBook.svelte.ts';

/** A store in memory that refuses on demand. */
function memory(value?: unknown) {
  const states = {
    value,
    refuses: false,
    take: (): Promise<Result<unknown>> =>
      Promise.resolve(
        states.refuses
          ? { ok: false, fault: 'storage_failed' }
          : { ok: true, value: structuredClone(states.value) },
      ),
    put: (_: string, put: unknown): Promise<Result<void>> => {
      if (states.refuses) return Promise.resolve({ ok: false, fault: 'storage_failed' });
      states.value = structuredClone(put);
      return Promise.resolve({ ok: true, value: undefined });
    },
  };
  return states;
}

const round = (id: string): KeptAttempt => ({
  by: 'MK',
  attempt: { kind: 'guided', procedure: 'drainage-bag', steps: 3, id, at: noon },
});
const idsOf = ({ attempts }: Pick<PracticeBook, 'attempts'>) =>
  attempts.map(({ attempt: { id } }) => id);

describe('When attempts are kept', () => {
  test('they stand in their order and are there again after a reload', async () => {
    const states = memory();
    const book = new PracticeBook(states);
    expect(book.state).toBe('opening');
    await book.open();
    for (const id of ['a', 'b']) await book.keep(round(id));
    const again = new PracticeBook(states);
    await again.open();
    expect(again.state).toBe('open');
    expect(idsOf(again)).toEqual(['a', 'b']);
  });

  test('kept twice, an attempt stands once', async () => {
    const book = new PracticeBook(memory());
    await book.keep(round('a'));
    await book.keep(round('a'));
    expect(idsOf(book)).toEqual(['a']);
  });

  test('what another tab kept meanwhile stays', async () => {
    const states = memory();
    const [one, other] = [new PracticeBook(states), new PracticeBook(states)];
    await one.keep(round('a'));
    await other.keep(round('b'));
    await one.setTolerance(mL(50));
    expect(idsOf(practiceOf(states.value))).toEqual(['a', 'b']);
    expect(one.tolerance).toBe(50);
  });

  test('of very many the oldest go', async () => {
    const attempts = Array.from({ length: 500 }, (_, index) => round(`old-${index}`));
    const book = new PracticeBook(memory({ ...noPractice, attempts }));
    await book.keep(round('new'));
    expect(book.attempts).toHaveLength(500);
    expect(idsOf(book)[0]).toBe('old-1');
    expect(idsOf(book).at(-1)).toBe('new');
  });
});

describe('When the device refuses', () => {
  test('the attempt is in the page, and the refusal is told', async () => {
    const states = memory();
    states.refuses = true;
    const book = new PracticeBook(states);
    await book.open();
    expect(book.state).toBe('failed');
    await expect(book.keep(round('a'))).rejects.toThrow('storage_failed');
    expect(idsOf(book)).toEqual(['a']);
  });
});

describe('When what was kept is broken or of another version', () => {
  test.each([
    ['nothing', undefined],
    ['another version', { v: 2, tolerance: 25, attempts: [] }],
    ['half a volume', { v: 1, tolerance: 12.5, attempts: [] }],
    [
      'an attempt without a kind',
      { v: 1, tolerance: 25, attempts: [{ by: 'MK', attempt: { id: 'a' } }] },
    ],
  ])('%s is as good as none', (_, value) => {
    expect(practiceOf(value)).toEqual(noPractice);
  });
});
