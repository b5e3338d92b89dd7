/** From the page to the service worker; the answer comes on the port that is sent with it. */
export type ToServiceWorker =
  /** Check what is kept, fetch what is missing, drop what no version in use needs. */
  | { readonly type: 'mend'; readonly sparing: boolean }
  /** Take the pages over, if none of them is in a walk. */
  | { readonly type: 'take over' };

/** From the service worker to each page; the page answers on the port with yes or no. */
export interface AreYouBusy {
  readonly type: 'busy?';
}

export interface Mended {
  /** Files that are kept now and whole, and files there are. */
  readonly kept: number;
  readonly of: number;
}

export type TakeOver = 'taken' | 'busy';

/** Put a question to the other side and wait for its one answer; undefined after `limit` ms. */
export function ask<Answer>(
  whom: { postMessage(message: unknown, transfer: Transferable[]): void },
  message: ToServiceWorker | AreYouBusy,
  limit: number,
): Promise<Answer | undefined> {
  const { port1, port2 } = new MessageChannel();
  return new Promise<Answer | undefined>((resolve) => {
    const timer = setTimeout(() => resolve(undefined), limit);
    port1.onmessage = ({ data }: MessageEvent<Answer>) => {
      clearTimeout(timer);
      resolve(data);
    };
    whom.postMessage(message, [port2]);
  }).finally(() => port1.close());
}
