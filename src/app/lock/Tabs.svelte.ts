import { WriterLock, type WriterState } from '../../storage/writerLock.ts';

/** What one tab of this browser tells the others. */
const news = ['settings', 'lock'] as const;
export type News = (typeof news)[number];

type Channel = Pick<BroadcastChannel, 'postMessage' | 'addEventListener'>;

export interface TabsPorts {
  /** Undefined where the browser has no Web Locks. */
  readonly locks: LockManager | undefined;
  readonly channel: Channel;
}

/** The tabs of this browser that have the app open: one writes, the others follow. */
export class Tabs {
  readonly lock: WriterLock;
  state = $state.raw<WriterState>('asking');
  readonly #channel: Channel;

  constructor({ locks, channel }: TabsPorts, name: string) {
    this.lock = new WriterLock(locks, name);
    this.#channel = channel;
    this.lock.subscribe((state) => {
      this.state = state;
    });
  }

  get writes(): boolean {
    return this.state === 'writer' || this.state === 'alone';
  }

  /** @param became - called when this tab begins to write or to follow, after the start */
  async start(became: (writes: boolean) => void): Promise<void> {
    await this.lock.start();
    this.lock.subscribe(() => {
      became(this.writes);
    });
  }

  async takeOver(): Promise<void> {
    await this.lock.takeOver();
  }

  /** `settings` were changed, or the `lock` was closed, set or taken off: the others look anew. */
  tell(what: News): void {
    this.#channel.postMessage(what);
  }

  hear(listener: (what: News) => void): void {
    this.#channel.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
      const told = news.find((each) => each === data);
      if (told !== undefined) listener(told);
    });
  }
}
