import type { FromWorker, ToWorker } from './messages.ts';

/** The page's half of the worker: loads it once, hands sessions their messages, restarts it. */
export interface EngineHost {
  readonly state: 'cold' | 'loading' | 'ready';
  /** Resolves when the model is loaded. @throws when it can not be */
  load(): Promise<void>;
  /** Give up what is being loaded, which then fails; the next `load` begins anew. */
  stop(): void;
  /** The share of the model's files that has come, 0 to 1; not all of the way to being ready. */
  readonly loaded: number;
  onLoaded: ((share: number) => void) | null;
  send(message: ToWorker, transfer?: Transferable[]): void;
  /** Whose session it is; `null` between sessions. The one before is told `crashed` no more. */
  listener: ((message: FromWorker | { readonly type: 'crashed' }) => void) | null;
}

/** The part of `Worker` that the host uses, so that tests can stand one in. */
export type WorkerLike = Pick<
  Worker,
  'postMessage' | 'terminate' | 'addEventListener' | 'removeEventListener'
>;

/**
 * Make the host of one engine, whose worker begins to load when it is made. A worker that breaks is
 * ended and made anew at the next `load`.
 */
export function createEngineHost(makeWorker: () => WorkerLike): EngineHost {
  let worker: WorkerLike | undefined;
  let loading: Promise<void> | undefined;
  let giveUp: (() => void) | undefined;

  const drop = (): void => {
    worker?.terminate();
    worker = undefined;
    loading = undefined;
    giveUp = undefined;
    host.state = 'cold';
    host.loaded = 0;
  };

  const start = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const fresh = makeWorker();
      worker = fresh;
      giveUp = () => {
        drop();
        reject(new Error('engine_stopped'));
      };
      const crash = (message: string): void => {
        if (worker !== fresh) return;
        drop();
        reject(new Error(`engine_failed: ${message}`));
        host.listener?.({ type: 'crashed' });
      };
      fresh.addEventListener('message', ({ data }: MessageEvent<FromWorker>) => {
        if (worker !== fresh) return;
        if (data.type === 'ready') {
          giveUp = undefined;
          host.state = 'ready';
          resolve();
        } else if (data.type === 'loading') {
          host.loaded = data.share;
          host.onLoaded?.(data.share);
        } else if (data.type === 'failed') crash(data.message);
        else host.listener?.(data);
      });
      fresh.addEventListener('error', (event) => {
        crash(event.message);
      });
      fresh.addEventListener('messageerror', () => {
        crash('a message could not be read');
      });
    });

  const host: EngineHost & { state: EngineHost['state']; loaded: number } = {
    state: 'cold',
    loaded: 0,
    onLoaded: null,
    listener: null,
    load() {
      if (loading === undefined) {
        host.state = 'loading';
        loading = start();
      }
      return loading;
    },
    stop() {
      giveUp?.();
    },
    send(message, transfer = []) {
      worker?.postMessage(message, transfer);
    },
  };
  return host;
}
