import { describe, expect, test } from 'vitest';
import { LocksInMemory } from '../../../tests/support/locks.ts';
import { Tabs, type News } from './Tabs.svelte.ts';

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
    await tabs.start((writes) => became.push(writes));
    return { tabs, became, channel };
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
    await Promise.resolve();
    expect([first.tabs.writes, second.tabs.writes]).toEqual([false, true]);
    expect([first.became, second.became]).toEqual([[false], [true]]);
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
    await tabs.start(() => undefined);
    expect([tabs.state, tabs.writes]).toEqual(['alone', true]);
  });
});
