import { describe, expect, test } from 'vitest';
import { aide, draftFact, Pen } from '../../tests/support/ledgerStory.ts';
import { LocksInMemory } from '../../tests/support/locks.ts';
import { strictRules } from '../charting/reviewRules.ts';
import type { Ledger } from './ledger.ts';
import { MemoryLedger } from './memoryLedger.ts';
import { SharedLedger } from './sharedLedger.ts';
import { WriterLock, type WriterState } from './writerLock.ts';

const settle = async () => {
  for (let n = 0; n < 10; n += 1) await Promise.resolve();
};

function tabs() {
  const locks = new LocksInMemory().asManager();
  const tab = () => {
    const lock = new WriterLock(locks, 'record');
    const seen: WriterState[] = [];
    lock.subscribe((state) => seen.push(state));
    return { lock, seen };
  };
  return [tab(), tab(), tab()] as const;
}

describe('When several tabs are open', () => {
  test('the first writes, the others follow', async () => {
    const [one, two, three] = tabs();
    expect([await one.lock.start(), await two.lock.start(), await three.lock.start()]).toEqual([
      'writer',
      'follower',
      'follower',
    ]);
  });

  test('when the writer goes, the next in line writes', async () => {
    const [one, two, three] = tabs();
    for (const { lock } of [one, two, three]) await lock.start();
    one.lock.stop();
    await settle();
    expect([two.lock.state, three.lock.state]).toEqual(['writer', 'follower']);
  });

  test('a follower takes over; the writer is told, follows, and may write again later', async () => {
    const [one, two] = tabs();
    await one.lock.start();
    await two.lock.start();
    expect(await two.lock.takeOver()).toBe('writer');
    await settle();
    expect(one.lock.state).toBe('follower');
    expect(two.seen).toEqual(['follower', 'writer']);
    two.lock.stop();
    await settle();
    expect(one.seen).toEqual(['writer', 'follower', 'writer']);
  });

  test('the writer passes it on to the next in line, and stands in line again', async () => {
    const [one, two] = tabs();
    await one.lock.start();
    await two.lock.start();
    two.lock.pass();
    expect(two.seen).toEqual(['follower']);
    one.lock.pass();
    await settle();
    expect([one.seen, two.seen]).toEqual([
      ['writer', 'follower'],
      ['follower', 'writer'],
    ]);
    two.lock.pass();
    await settle();
    expect(one.lock.state).toBe('writer');
  });

  test('taking over what is one’s own changes nothing', async () => {
    const [one] = tabs();
    await one.lock.start();
    expect(await one.lock.takeOver()).toBe('writer');
    expect(one.seen).toEqual(['writer']);
  });

  test('one that left the line does not come to write', async () => {
    const [one, two, three] = tabs();
    for (const { lock } of [one, two, three]) await lock.start();
    two.lock.stop();
    one.lock.stop();
    await settle();
    expect([two.lock.state, three.lock.state]).toEqual(['follower', 'writer']);
  });

  test('without locks the tab writes, and knows that it does so alone', async () => {
    expect(await new WriterLock(undefined, 'record').start()).toBe('alone');
  });
});

describe('When tabs share a ledger', () => {
  /** Two ends of one channel, each hearing the other and not itself. */
  function channels() {
    const ends = [new EventTarget(), new EventTarget()] as const;
    const end = (own: EventTarget, other: EventTarget) => ({
      addEventListener: (type: string, listener: EventListener) => {
        own.addEventListener(type, listener);
      },
      postMessage: (data: unknown) =>
        void other.dispatchEvent(new MessageEvent('message', { data })),
    });
    return [end(ends[0], ends[1]), end(ends[1], ends[0])] as const;
  }

  async function shared() {
    const store = new MemoryLedger(() => strictRules);
    const [here, there] = channels();
    const [one, two] = tabs();
    const writer = new SharedLedger(store, one.lock, here);
    // The follower reads the same store by a connection of its own, which tells it nothing.
    const quiet: Ledger = {
      append: (events) => store.append(events),
      groups: (query) => store.groups(query),
      group: (id) => store.group(id),
      countOpen: (kind) => store.countOpen(kind),
      tail: (device) => store.tail(device),
      read: (after, limit) => store.read(after, limit),
      count: () => store.count(),
      subscribe: () => () => undefined,
    };
    const follower = new SharedLedger(quiet, two.lock, there);
    await one.lock.start();
    await two.lock.start();
    return { writer, follower, one, two };
  }

  test('the follower hears what grew and reads it', async () => {
    const { writer, follower } = await shared();
    const heard: (readonly string[])[] = [];
    follower.subscribe((groups) => heard.push(groups));
    const event = await new Pen().write(aide, draftFact());
    await writer.append([event]);
    expect(heard).toEqual([[event.entry]]);
    expect(await follower.group(event.entry)).toEqual({ ok: true, value: [event] });
    expect(await follower.count()).toEqual({ ok: true, value: 1 });
  });

  test('the follower is refused, and kept after it took over', async () => {
    const { writer, follower, two } = await shared();
    const event = await new Pen().write(aide, draftFact());
    expect(await follower.append([event])).toEqual({ ok: false, fault: 'not_writer' });
    await two.lock.takeOver();
    await settle();
    expect(await follower.append([event])).toMatchObject({ ok: true });
    expect(await writer.append([event])).toEqual({ ok: false, fault: 'not_writer' });
  });
});
