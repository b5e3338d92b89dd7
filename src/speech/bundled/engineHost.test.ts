import { describe, expect, it, vi } from 'vitest';
import { createEngineHost } from './engineHost.ts';
import type { FromWorker } from './messages.ts';

class FakeWorker extends EventTarget {
  readonly posted: unknown[] = [];
  terminated = false;
  postMessage(message: unknown): void {
    this.posted.push(message);
  }
  terminate(): void {
    this.terminated = true;
  }
  tell(data: FromWorker): void {
    this.dispatchEvent(new MessageEvent('message', { data }));
  }
  break(): void {
    this.dispatchEvent(Object.assign(new Event('error'), { message: 'out of memory' }));
  }
}

function setUp() {
  const workers: FakeWorker[] = [];
  const host = createEngineHost(() => {
    const worker = new FakeWorker();
    workers.push(worker);
    return worker;
  });
  const worker = (index: number): FakeWorker => {
    const made = workers[index];
    if (made === undefined) throw new Error(`worker ${index} was not made`);
    return made;
  };
  return { host, workers, worker };
}

describe('When the engine is loaded', () => {
  it('makes one worker, however often it is asked', async () => {
    const { host, workers, worker } = setUp();
    const both = Promise.all([host.load(), host.load()]);
    expect(host.state).toBe('loading');
    worker(0).tell({ type: 'ready' });
    await both;
    expect(host.state).toBe('ready');
    expect(workers).toHaveLength(1);
  });

  it('can be stopped while it loads, and loads anew when asked again', async () => {
    const { host, workers, worker } = setUp();
    const stopped = host.load();
    host.stop();
    await expect(stopped).rejects.toThrow('engine_stopped');
    expect(worker(0).terminated).toBe(true);
    expect(host.state).toBe('cold');
    worker(0).tell({ type: 'ready' });
    expect(host.state).toBe('cold');
    const loading = host.load();
    worker(1).tell({ type: 'ready' });
    await loading;
    host.stop();
    expect(worker(1).terminated).toBe(false);
    expect(host.state).toBe('ready');
    expect(workers).toHaveLength(2);
  });

  it('tells how much has come, and forgets it with the worker', async () => {
    const { host, worker } = setUp();
    const shares: number[] = [];
    host.onLoaded = (share) => shares.push(share);
    const loading = host.load();
    worker(0).tell({ type: 'loading', share: 0.25 });
    worker(0).tell({ type: 'loading', share: 1 });
    expect(host.state).toBe('loading');
    worker(0).tell({ type: 'ready' });
    await loading;
    expect(shares).toEqual([0.25, 1]);
    expect(host.loaded).toBe(1);
    worker(0).break();
    expect(host.loaded).toBe(0);
  });

  it('says why it could not be, and tries anew the next time', async () => {
    const { host, workers, worker } = setUp();
    const loading = host.load();
    worker(0).tell({ type: 'failed', message: 'no model' });
    await expect(loading).rejects.toThrow('no model');
    expect(worker(0).terminated).toBe(true);
    const again = host.load();
    worker(1).tell({ type: 'ready' });
    await again;
    expect(workers).toHaveLength(2);
  });
});

describe('When the worker breaks in the midst', () => {
  it('tells the session, ends the worker and makes another at the next load', async () => {
    const { host, worker } = setUp();
    const loading = host.load();
    worker(0).tell({ type: 'ready' });
    await loading;
    host.listener = vi.fn();
    worker(0).break();
    expect(host.listener).toHaveBeenCalledWith({ type: 'crashed' });
    expect(worker(0).terminated).toBe(true);
    expect(host.state).toBe('cold');
    const again = host.load();
    worker(1).tell({ type: 'ready' });
    await again;
    expect(host.state).toBe('ready');
  });

  it('hears nothing any more from the one that broke', async () => {
    const { host, worker } = setUp();
    const loading = host.load();
    worker(0).tell({ type: 'ready' });
    await loading;
    host.listener = vi.fn();
    worker(0).break();
    worker(0).tell({ type: 'speechstart' });
    expect(host.listener).toHaveBeenCalledTimes(1);
  });
});
