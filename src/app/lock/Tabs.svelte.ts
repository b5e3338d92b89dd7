import { WriterLock, type WriterState } from '../../storage/writerLock.ts';

/** What one tab of this browser tells the others. */
const news = ['settings', 'lock'] as const;
export type News = (typeof news)[number];

/** A tab asks the writer to finish what it does and to pass the writing on. */
const askForIt = 'pass';
/** A writer that has not passed it on by then hangs or sleeps, and is not asked any more, ms. */
export const passWithin = 2_000;
/** A page that is loaded again may come before the browser has let go of the one it was, ms. */
export const freedWithin = 250;

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

  /**
   * @param became - called when this tab begins to write or to follow, after the start
   * @param finish - keeps what is on its way; called before the writing is passed on
   */
  async start(became: (writes: boolean) => void, finish: () => Promise<void>): Promise<void> {
    if ((await this.lock.start()) === 'follower') await this.#changed(freedWithin);
    this.lock.subscribe(() => {
      became(this.writes);
    });
    this.#channel.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
      if (data !== askForIt || this.state !== 'writer') return;
      const pass = (): void => {
        this.lock.pass();
      };
      void finish().then(pass, pass);
    });
  }

  /** Write from now on: the writer is asked to pass it on, and where it does not answer it is taken. */
  async takeOver(): Promise<void> {
    if (this.state !== 'follower') return;
    this.#channel.postMessage(askForIt);
    await this.#changed(passWithin);
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

  /** Done when the state changes, or after so many ms. */
  #changed(within: number): Promise<void> {
    return new Promise((done) => {
      const stop = this.lock.subscribe(end);
      const timer = setTimeout(end, within);
      function end(): void {
        clearTimeout(timer);
        stop();
        done();
      }
    });
  }
}
