import { describe, expect, it } from 'vitest';
import { Offline, type OfflinePorts } from './Offline.svelte.ts';

/** A browser whose service worker is installed and answers as told; one version may wait. */
function fakeBrowser(waitingAnswers?: 'taken' | 'busy') {
  const worker = (answer: unknown) => ({
    postMessage: (_message: unknown, [port]: MessagePort[]) => port?.postMessage(answer),
  });
  const registration = Object.assign(new EventTarget(), {
    active: worker({ kept: 9, of: 9 }),
    installing: null,
    waiting: waitingAnswers === undefined ? null : worker(waitingAnswers),
    update: async () => undefined,
  });
  return Object.assign(new EventTarget(), {
    controller: registration.active,
    ready: Promise.resolve(registration),
    startMessages: () => undefined,
    register: async () => registration,
  });
}

async function started(container: EventTarget | undefined, given: Partial<OfflinePorts> = {}) {
  let reloads = 0;
  const offline = new Offline({
    container: container as ServiceWorkerContainer | undefined,
    script: '/service-worker.js',
    busy: () => false,
    reload: () => void (reloads += 1),
    sparing: false,
    ...given,
  });
  await offline.start(Promise.resolve());
  return { offline, reloads: () => reloads };
}

describe('When the app keeps itself', () => {
  it('knows where it can not', async () => {
    const { offline } = await started(undefined);
    expect(offline.keeping).toBe('impossible');
  });

  it('is kept, the voice too, when the service worker says so', async () => {
    const { offline } = await started(fakeBrowser());
    expect(offline).toMatchObject({ keeping: 'kept', complete: true, renewal: 'none' });
  });

  it('goes on with what it has where registering is refused', async () => {
    const container = Object.assign(fakeBrowser(), {
      register: () => Promise.reject(new Error('refused')),
    });
    expect((await started(container)).offline.keeping).toBe('kept');
    Object.assign(container, { controller: null });
    expect((await started(container)).offline.keeping).toBe('failed');
  });

  it('answers whether a walk is on its way', async () => {
    const container = fakeBrowser();
    await started(container, { busy: () => true });
    const { port1, port2 } = new MessageChannel();
    const answer = new Promise((done) => {
      port1.onmessage = ({ data }) => done(data);
    });
    container.dispatchEvent(
      Object.assign(new Event('message'), { data: { type: 'busy?' }, ports: [port2] }),
    );
    expect(await answer).toBe(true);
    port1.close();
  });
});

describe('When a new version waits', () => {
  it('says so, and is opened when a person asks', async () => {
    const container = fakeBrowser('taken');
    const { offline, reloads } = await started(container);
    expect(offline.renewal).toBe('waiting');
    await offline.apply();
    expect(reloads()).toBe(0);
    container.dispatchEvent(new Event('controllerchange'));
    expect(reloads()).toBe(1);
  });

  it('goes on waiting in a walk, here', async () => {
    const { offline } = await started(fakeBrowser('taken'), { busy: () => true });
    await offline.apply();
    expect(offline.renewal).toBe('refused');
  });

  it('goes on waiting in a walk, in another window', async () => {
    const container = fakeBrowser('busy');
    const { offline, reloads } = await started(container);
    await offline.apply();
    expect(offline.renewal).toBe('refused');
    container.dispatchEvent(new Event('controllerchange'));
    expect([offline.renewal, reloads()]).toEqual(['elsewhere', 0]);
    await offline.apply();
    expect(reloads()).toBe(1);
  });
});
