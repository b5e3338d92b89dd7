import type { Snapshot } from 'xstate';
import type { WalkContext } from '../conversation/walkContext.ts';

/** The unfinished walk as it is stored. */
export interface WalkRecord {
  readonly v: 1;
  /** Version of the machines; another version resumes from the context instead. */
  readonly machine: number;
  readonly snapshot: Snapshot<unknown>;
  readonly context: WalkContext;
}

/** As it lies on the disk: the context is in the snapshot already. */
export function storedOf({ context, ...record }: WalkRecord): unknown {
  return 'context' in record.snapshot ? record : { ...record, context };
}

/** An unfinished walk as `storedOf` made it, or with its context apart; null for anything else. */
export function walkRecordOf(value: unknown): WalkRecord | null {
  if (typeof value !== 'object' || value === null || !('v' in value) || value.v !== 1) return null;
  const record = value as Omit<WalkRecord, 'context'> & Partial<Pick<WalkRecord, 'context'>>;
  const { context = (record.snapshot as { context?: WalkContext }).context } = record;
  return context === undefined ? null : { ...record, context };
}

/** Where the unfinished walk is kept. Rejects when the device refuses. */
export interface WalkKeeper {
  put(record: WalkRecord): Promise<void>;
  clear(): Promise<void>;
}

/** ms between two tries while the device refuses. */
const tryAgainAfter = 3_000;

/**
 * Keeps the newest state of a walk, one write at a time, and says when the device refuses.
 *
 * States that come while a write is under way replace each other: only the newest matters.
 */
export class KeptWalk {
  readonly #keeper: WalkKeeper;
  readonly #tell: (fact: 'keep.failed' | 'keep.mended') => void;
  readonly #version: number;
  #waiting: (() => Promise<void>) | null = null;
  #writing = false;
  #running: Promise<void> = Promise.resolve();
  #failing = false;
  #waits = false;

  constructor(
    keeper: WalkKeeper,
    tell: (fact: 'keep.failed' | 'keep.mended') => void,
    version: number,
  ) {
    this.#keeper = keeper;
    this.#tell = tell;
    this.#version = version;
  }

  keep(snapshot: Snapshot<unknown>, context: WalkContext): void {
    const record: WalkRecord = { v: 1, machine: this.#version, snapshot, context };
    this.#want(() => this.#keeper.put(record));
  }

  clear(): void {
    this.#want(() => this.#keeper.clear());
  }

  /** Bring the newest state to the disk now. Done when it is there, or was refused once more. */
  async written(): Promise<void> {
    await this.#running;
    if (this.#waiting !== null) await (this.#running = this.#run());
  }

  #want(write: () => Promise<void>): void {
    this.#waiting = write;
    if (!this.#writing) this.#running = this.#run();
  }

  async #run(): Promise<void> {
    this.#writing = true;
    while (this.#waiting !== null) {
      const write = this.#waiting;
      this.#waiting = null;
      try {
        await write();
        if (this.#failing) this.#report(false);
      } catch {
        this.#waiting ??= write;
        if (!this.#failing) this.#report(true);
        break;
      }
    }
    this.#writing = false;
    if (this.#waiting !== null) this.#tryLater();
  }

  #tryLater(): void {
    if (this.#waits) return;
    this.#waits = true;
    setTimeout(() => {
      this.#waits = false;
      if (!this.#writing) this.#running = this.#run();
    }, tryAgainAfter);
  }

  #report(failing: boolean): void {
    this.#failing = failing;
    this.#tell(failing ? 'keep.failed' : 'keep.mended');
  }
}
