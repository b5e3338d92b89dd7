import { sealFacts, type Digest, type Tail, type Unsealed } from '../charting/chain.ts';
import { futureAllowance } from '../charting/reviewRules.ts';
import type { Author, Fact, LedgerEvent } from '../charting/events.ts';
import { uuid, uuidRandomBytes } from '../charting/uuid.ts';
import type { Moment } from '../measure/moment.ts';
import { InTurn } from './inTurn.ts';
import type { Ledger, StorageFault } from './ledger.ts';
import { Listeners } from './listeners.ts';

/** Why a fact was not taken; the ledger is untouched. */
export type RecordFault =
  /** This device's clock stands before its own last event. */
  | 'clock_set_back'
  /** The reading would lie after now. */
  | 'reading_in_future';

export interface RecorderState {
  /** Events that are sealed and not kept yet, oldest first. They live as long as this page. */
  readonly unsaved: readonly LedgerEvent[];
  /** Why the last attempt failed, or null. */
  readonly fault: StorageFault | null;
}

export type Recorded =
  /** Kept: the disk has it. */
  | { readonly kept: 'stored'; readonly events: readonly LedgerEvent[] }
  /** Only in this page's memory, and tried again; say so. */
  | {
      readonly kept: 'memory';
      readonly events: readonly LedgerEvent[];
      readonly fault: StorageFault;
    }
  | { readonly kept: 'refused'; readonly fault: RecordFault };

export interface RecorderPorts {
  readonly ledger: Ledger;
  readonly device: string;
  readonly digest: Digest;
  readonly now: () => Moment;
  readonly random: (bytes: number) => Uint8Array;
  /** Call back after so many ms. Returns the way to stop it. */
  readonly after: (ms: number, run: () => void) => () => void;
}

/** Waits before trying again, ms; the last one repeats. */
export const retryWaits: readonly number[] = [1_000, 2_000, 5_000, 15_000, 60_000];

/** How far the clock may stand before the last event and still be taken, ms: clocks are corrected. */
export const clockSlack = 120_000;

/**
 * Puts facts into this device's chain and sees to it that they are kept.
 *
 * A fact that was taken is never dropped: what the store refuses stays in order in memory and is
 * tried again, and everything after it waits behind it, because the chain has no gaps.
 */
export class Recorder {
  readonly #ports: RecorderPorts;
  readonly #listeners = new Listeners<RecorderState>();
  #state: RecorderState = { unsaved: [], fault: null };
  #device: string;
  /** Where the chain ends, unsaved events included; undefined until it was looked up. */
  #tail: Tail | null | undefined;
  readonly #turns = new InTurn();
  #failures = 0;
  #stopWaiting: (() => void) | null = null;

  constructor(ports: RecorderPorts) {
    this.#ports = ports;
    this.#device = ports.device;
  }

  get state(): RecorderState {
    return this.#state;
  }

  subscribe(listener: (state: RecorderState) => void): () => void {
    return this.#listeners.add(listener);
  }

  /** A new id for an entry, a walk or an alert. */
  newId(): string {
    return this.#idAt(this.#ports.now().ms);
  }

  /**
   * Take facts into the ledger together, in their order.
   *
   * @param clockSeen - true after a person looked at a clock that was set back and left it so
   */
  record(by: Author, facts: readonly Fact[], clockSeen = false): Promise<Recorded> {
    return this.#turns.run(async () => {
      const at = this.#ports.now();
      const tail = await this.#lookUpTail();
      const fault = factFault(facts, at, tail, clockSeen);
      if (fault !== null) return { kept: 'refused', fault };
      const unsealed = facts.map((fact): Unsealed => ({ id: this.#idAt(at.ms), at, by, fact }));
      const events = await this.#seal(unsealed);
      this.#become({ ...this.#state, unsaved: [...this.#state.unsaved, ...events] });
      const failed = await this.#flush();
      return failed === null
        ? { kept: 'stored', events }
        : { kept: 'memory', events, fault: failed };
    });
  }

  /** Try now to keep what is unsaved. */
  retry(): Promise<RecorderState> {
    return this.#turns.run(async () => {
      await this.#flush();
      return this.#state;
    });
  }

  /** Another tab may have written: look up the end of the chain again before the next fact. */
  lookAgain(): void {
    if (this.#state.unsaved.length === 0) this.#tail = undefined;
  }

  /** Stop trying by itself. What is unsaved stays in `state`. */
  stop(): void {
    this.#stopWaiting?.();
    this.#stopWaiting = null;
  }

  #idAt(ms: number): string {
    return uuid(ms, this.#ports.random(uuidRandomBytes));
  }

  async #lookUpTail(): Promise<Tail | null> {
    if (this.#tail === undefined) {
      const tail = await this.#ports.ledger.tail(this.#device);
      if (tail.ok) this.#tail = tail.value;
      else this.#startChain();
    }
    return this.#tail ?? null;
  }

  async #followTail(): Promise<void> {
    const tail = await this.#ports.ledger.tail(this.#device);
    if (tail.ok) this.#tail = tail.value;
    else this.#startChain();
  }

  /** Where this device's chain can not be gone on with, a chain of its own is begun. */
  #startChain(): void {
    this.#device = this.newId();
    this.#tail = null;
  }

  async #seal(unsealed: readonly Unsealed[]): Promise<LedgerEvent[]> {
    const { digest } = this.#ports;
    const events = await sealFacts(this.#device, this.#tail ?? null, unsealed, digest);
    const last = events.at(-1);
    if (last !== undefined) this.#tail = { seq: last.seq, hash: last.hash, ms: last.at.ms };
    return events;
  }

  /** Null when everything is kept. */
  async #flush(): Promise<StorageFault | null> {
    this.stop();
    if (this.#state.unsaved.length === 0) return null;
    let done = await this.#ports.ledger.append(this.#state.unsaved);
    // Another tab may have gone on with our chain: what nobody has seen yet goes behind it. Where that
    // is not taken either, it gets a chain of its own.
    for (const chain of ['ours', 'new'] as const) {
      if (done.ok || done.fault !== 'chain_forked') break;
      if (chain === 'ours') await this.#followTail();
      else this.#startChain();
      const unsaved = await this.#seal(this.#state.unsaved.map(unsealedOf));
      this.#become({ ...this.#state, unsaved });
      done = await this.#ports.ledger.append(unsaved);
    }
    if (done.ok) {
      this.#failures = 0;
      this.#become({ unsaved: [], fault: null });
      return null;
    }
    const wait = retryWaits[Math.min(this.#failures, retryWaits.length - 1)] ?? 0;
    this.#failures += 1;
    this.#stopWaiting = this.#ports.after(wait, () => void this.retry());
    this.#become({ ...this.#state, fault: done.fault });
    return done.fault;
  }

  #become(state: RecorderState): void {
    this.#state = state;
    this.#listeners.tell(state);
  }
}

function unsealedOf(event: LedgerEvent): Unsealed {
  const { v: _v, device: _device, seq: _seq, prev: _prev, hash: _hash, ...rest } = event;
  const { id, at, by, ...fact } = rest;
  return { id, at, by, fact };
}

function factFault(
  facts: readonly Fact[],
  at: Moment,
  tail: Tail | null,
  clockSeen: boolean,
): RecordFault | null {
  if (!clockSeen && tail !== null && at.ms < tail.ms - clockSlack) return 'clock_set_back';
  const future = facts.some((fact) => {
    const readAt = fact.type === 'entry.drafted' ? fact.readAt : null;
    const amended = fact.type === 'entry.amended' ? fact.changes.readAt?.is : undefined;
    return (readAt ?? amended ?? at).ms > at.ms + futureAllowance;
  });
  return future ? 'reading_in_future' : null;
}
