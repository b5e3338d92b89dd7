import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { askAgainAfter, stayAwake } from './stayAwake.ts';

class Hold extends EventTarget {
  released = false;
  release(): Promise<void> {
    this.released = true;
    this.dispatchEvent(new Event('release'));
    return Promise.resolve();
  }
}

function startScreen(refuses = false) {
  const shown: { visibilityState: DocumentVisibilityState } = { visibilityState: 'visible' };
  const page = Object.assign(new EventTarget(), shown);
  const holds: Hold[] = [];
  const screen = { refuses, asked: 0 };
  const letSleep = stayAwake({
    page,
    request: () => {
      screen.asked += 1;
      if (screen.refuses) return Promise.reject(new DOMException('low battery', 'NotAllowedError'));
      const hold = new Hold();
      holds.push(hold);
      return Promise.resolve(hold);
    },
  });
  const show = (state: DocumentVisibilityState): void => {
    page.visibilityState = state;
    // The system drops every hold of a page that is hidden, and tells the page of it.
    if (state === 'hidden') for (const hold of holds) void hold.release();
    page.dispatchEvent(new Event('visibilitychange'));
  };
  const settled = () => vi.advanceTimersByTimeAsync(0);
  const held = () => holds.filter(({ released }) => !released).length;
  return { screen, holds, letSleep, show, settled, held };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('When the screen is kept on', () => {
  test('it is asked for once, and let go at the end', async () => {
    const { screen, letSleep, settled, held } = startScreen();
    await settled();
    expect([screen.asked, held()]).toEqual([1, 1]);
    letSleep();
    expect(held()).toBe(0);
    await vi.advanceTimersByTimeAsync(10 * askAgainAfter);
    expect(screen.asked).toBe(1);
  });

  test('it is asked for again whenever the page is shown again, and not while it is hidden', async () => {
    const { screen, show, settled, held } = startScreen();
    await settled();
    for (let turn = 0; turn < 3; turn++) {
      show('hidden');
      await vi.advanceTimersByTimeAsync(10 * askAgainAfter);
      expect(held()).toBe(0);
      show('visible');
      await settled();
      expect(held()).toBe(1);
    }
    expect(screen.asked).toBe(4);
  });

  test('one that the system takes away in plain view is asked for again later', async () => {
    const { holds, settled, held } = startScreen();
    await settled();
    await holds[0]?.release();
    await vi.advanceTimersByTimeAsync(askAgainAfter - 1);
    expect(held()).toBe(0);
    await vi.advanceTimersByTimeAsync(1);
    expect(held()).toBe(1);
  });

  test('a refusal is no hot loop: twice a minute, until it is given', async () => {
    const { screen, held } = startScreen(true);
    await vi.advanceTimersByTimeAsync(10 * 60_000);
    expect(screen.asked).toBe(21);
    screen.refuses = false;
    await vi.advanceTimersByTimeAsync(askAgainAfter);
    expect(held()).toBe(1);
  });

  test('one that comes when the walk is over is given back at once', async () => {
    const { letSleep, settled, held, holds } = startScreen();
    letSleep();
    await settled();
    expect(holds).toHaveLength(1);
    expect(held()).toBe(0);
  });

  test('a browser without it is none the worse', () => {
    expect(stayAwake(null)).toBeTypeOf('function');
  });
});
