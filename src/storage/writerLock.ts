import { Listeners } from './listeners.ts';

/** `alone` where the browser has no locks: this tab writes and can not know of others. */
export type WriterState = 'asking' | 'writer' | 'follower' | 'alone';

type Locks = Pick<LockManager, 'request'>;

/**
 * Which tab of this browser writes.
 *
 *   asking ──free──► writer ──taken over, or pass──► follower
 *      └──held──► follower ──writer gone, or takeOver──► writer
 *
 * The lock is the browser's own (Web Locks), so a tab that dies lets go of it.
 */
export class WriterLock {
  readonly #locks: Locks | undefined;
  readonly #name: string;
  readonly #listeners = new Listeners<WriterState>();
  #state: WriterState = 'asking';
  #release: (() => void) | null = null;
  #queued: AbortController | null = null;

  constructor(locks: Locks | undefined, name: string) {
    this.#locks = locks;
    this.#name = name;
  }

  get state(): WriterState {
    return this.#state;
  }

  subscribe(listener: (state: WriterState) => void): () => void {
    return this.#listeners.add(listener);
  }

  /** Become the writer if no tab is, else follow and wait in line. Settles when that is known. */
  async start(): Promise<WriterState> {
    if (this.#locks === undefined) return this.#become('alone');
    const got = await this.#hold({ ifAvailable: true });
    if (!got) {
      this.#become('follower');
      this.#queued = new AbortController();
      void this.#hold({ signal: this.#queued.signal });
    }
    return this.#state;
  }

  /** Become the writer now; the tab that was is told and follows. */
  async takeOver(): Promise<WriterState> {
    if (this.#state === 'follower') {
      this.#queued?.abort();
      await this.#hold({ steal: true });
    }
    return this.#state;
  }

  /** Let the next in line write, and stand in line again. Nothing when this is not the writer. */
  pass(): void {
    if (this.#state !== 'writer' || this.#release === null) return;
    this.#become('follower');
    this.#queued = new AbortController();
    void this.#hold({ signal: this.#queued.signal });
    this.#release();
    this.#release = null;
  }

  /** Let go. */
  stop(): void {
    this.#queued?.abort();
    this.#release?.();
    this.#release = null;
  }

  /** True once the lock is ours; it stays so until it is let go or stolen. */
  #hold(options: LockOptions): Promise<boolean> {
    return new Promise((settle) => {
      let got = false;
      const held = this.#locks?.request(this.#name, options, (lock) => {
        if (lock === null) return settle(false);
        got = true;
        this.#become('writer');
        settle(true);
        return new Promise<void>((release) => (this.#release = release));
      });
      held?.then(
        () => undefined,
        () => {
          settle(false);
          if (!got) return; // gave up waiting in line
          this.#release = null;
          this.#become('follower');
          this.#queued = new AbortController();
          void this.#hold({ signal: this.#queued.signal });
        },
      );
    });
  }

  #become(state: WriterState): WriterState {
    if (this.#state !== state) {
      this.#state = state;
      this.#listeners.tell(state);
    }
    return state;
  }
}
