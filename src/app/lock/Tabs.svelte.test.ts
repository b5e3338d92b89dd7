import { afterEach, describe, expect, test, vi } from 'vitest';
import { LocksInMemory } from '../../../tests/support/locks.ts';
import { WriterLock } from '../../storage/writerLock.ts';
import { freedWithin, passWithin, Tabs, type News } from './Tabs.svelte.ts';

afterEach(() => {
  vi.useRealTimers();
});

async function browser(count: number) {
  const locks = new LocksInMemory().asManager();
  const channels: EventTarget[] = [];
  const open = async () => {
    const target = new EventTarget();
    channels.push(target);
    const channel = Object.assign(target, {
      postMessage: (data: unknown) => {
        for (const other of channels) {
          if (other !== target) other.dispatchEvent(new MessageEvent('message', { data }));
        }
      },
    });
    const tabs = new Tabs({ locks, channel }, 'record');
    const became: boolean[] = [];
    const finished: string[] = [];
    await tabs.start(
      (writes) => became.push(writes),
      async () => {
        await Promise.resolve();
        finished.push(tabs.state);
      },
    );
    const hang = () => channels.splice(channels.indexOf(target), 1);
    return { tabs, became, channel, finished, hang };
  };
  const all: Awaited<ReturnType<typeof open>>[] = [];
  for (let n = 0; n < count; n += 1) all.push(await open());
  return all;
}

describe('When the app is open in two tabs', () => {
  test('the first writes, the second follows until it takes over, and each is told once', async () => {
    const [first, second] = await browser(2);
    if (!first || !second) throw new Error('no tabs');
    expect([first.tabs.writes, second.tabs.writes]).toEqual([true, false]);
    expect([first.became, second.became]).toEqual([[], []]);
    await second.tabs.takeOver();
    expect([first.tabs.writes, second.tabs.writes]).toEqual([false, true]);
    expect([first.became, second.became]).toEqual([[false], [true]]);
    // What was on its way was kept while it still wrote.
    expect(first.finished).toEqual(['writer']);
  });

  test('a writer that does not answer is not waited for', async () => {
    const [first, second] = await browser(2);
    if (!first || !second) throw new Error('no tabs');
    vi.useFakeTimers();
    first.hang();
    const taken = second.tabs.takeOver();
    await vi.advanceTimersByTimeAsync(passWithin - 1);
    expect(second.tabs.writes).toBe(false);
    await vi.advanceTimersByTimeAsync(1);
    await taken;
    expect([first.tabs.writes, second.tabs.writes]).toEqual([false, true]);
    expect([first.became, second.became]).toEqual([[false], [true]]);
  });

  test('a page that is loaded again before the old one is gone waits for it, and writes', async () => {
    vi.useFakeTimers();
    const locks = new LocksInMemory().asManager();
    const old = new WriterLock(locks, 'record');
    await old.start();
    const tabs = new Tabs({ locks, channel: new BroadcastChannel('t') }, 'record');
    const became: boolean[] = [];
    const started = tabs.start(
      (writes) => became.push(writes),
      () => Promise.resolve(),
    );
    await vi.advanceTimersByTimeAsync(freedWithin - 1);
    old.stop();
    await vi.advanceTimersByTimeAsync(0);
    await started;
    expect([tabs.writes, became]).toEqual([true, []]);
  });

  test('news reach the others, and nothing else does', async () => {
    const [first, second] = await browser(2);
    const heard: News[] = [];
    second?.tabs.hear((what) => heard.push(what));
    first?.tabs.tell('settings');
    first?.channel.postMessage('something else');
    first?.tabs.tell('lock');
    expect(heard).toEqual(['settings', 'lock']);
  });

  test('without Web Locks a tab writes, and is alone with it', async () => {
    const tabs = new Tabs({ locks: undefined, channel: new BroadcastChannel('t') }, 'record');
    await tabs.start(
      () => undefined,
      () => Promise.resolve(),
    );
    expect([tabs.state, tabs.writes]).toEqual(['alone', true]);
  });
});
