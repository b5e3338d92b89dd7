import { createEngineHost } from './engineHost.ts';

const makeWorker = (): Worker =>
  new Worker(new URL('./worker/worker.ts', import.meta.url), { type: 'module', name: 'ear' });

/** The page's one engine; it stays loaded between sessions. */
export const engineHost = createEngineHost(makeWorker);
