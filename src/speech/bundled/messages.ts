import type { Listening, RecogniserEvent } from './recogniser.ts';

/** What the page tells the worker, which begins to load by itself. */
export type ToWorker =
  /** A microphone opens: sound comes in through `port` at `rate` Hz, mono. */
  | {
      readonly type: 'listen';
      readonly port: MessagePort;
      readonly rate: number;
      /** Whether partial results are wanted. */
      readonly interim: boolean;
      /** Quiet that ends an utterance, ms. */
      readonly endSilence: number;
    }
  | { readonly type: 'expect'; readonly listening: Listening }
  /** The microphone is closed. `finish` still wants what was said so far. */
  | { readonly type: 'stop'; readonly finish: boolean };

/** What the worker tells the page. */
export type FromWorker =
  /** The share of the model's files that has come, 0 to 1. */
  | { readonly type: 'loading'; readonly share: number }
  | { readonly type: 'ready' }
  | { readonly type: 'failed'; readonly message: string }
  /** The first sound of a session arrived. */
  | { readonly type: 'sound' }
  /** Everything before `stop` is told. */
  | { readonly type: 'stopped' }
  | RecogniserEvent;
