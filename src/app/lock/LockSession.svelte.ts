import type { StorageFault } from '../../storage/ledger.ts';
import type { LockRecord } from '../../storage/vault/lockRecord.ts';
import { lockOf } from '../../storage/vault/lockRecord.ts';
import type { LockShelf } from '../../storage/vault/lockShelf.ts';
import { unlock, waitAfter, type OpenVault, type VaultRecord } from '../../storage/vault/vault.ts';
import type { LockKind } from './UnitLock.svelte.ts';

/** Somebody is in. */
export interface Entered {
  readonly kind: Exclude<LockKind, 'none'>;
  readonly place: string;
  readonly vault: OpenVault;
  /** Wrong tries before this right one, and when the last was, ms since the Unix epoch. */
  readonly wrong: VaultRecord['wrong'];
  /** Begin to count anew; once what was counted is in the record. */
  settle(): Promise<void>;
}

/** What became of the last try. */
export type Refused = 'pin_wrong' | 'pin_wait' | 'lock_broken' | StorageFault;

export interface LockSessionPorts {
  readonly shelf: Pick<LockShelf, 'take' | 'put'>;
  readonly now: () => number;
  readonly entered: (entered: Entered) => void;
}

/** The unit before anybody is in: a PIN is tried, counted, and let in or made to wait. */
export class LockSession {
  refused = $state.raw<Refused | null>(null);
  /** True while a PIN is stretched. */
  trying = $state.raw(false);
  /** Until when no try is taken, ms since the Unix epoch. */
  until = $state.raw(0);
  kind = $state.raw<Entered['kind']>('pins');
  readonly #ports: LockSessionPorts;

  constructor(ports: LockSessionPorts) {
    this.#ports = ports;
  }

  /** Read the lock. */
  async open(): Promise<void> {
    const lock = await this.#take();
    if (lock === null) return;
    this.kind = kindOf(lock);
    const { count, at } = lock.vault.wrong;
    this.#waits(at + waitAfter(count));
  }

  /** Seconds until the next try is taken; 0 when one is. */
  get wait(): number {
    const left = this.until - this.#ports.now();
    return left > 0 ? Math.ceil(left / 1_000) : 0;
  }

  /** @param who - initials; null for the unit's passcode and the recovery code */
  async try(who: string | null, pin: string): Promise<void> {
    if (this.trying) return;
    this.trying = true;
    try {
      await this.#try(who, pin);
    } finally {
      this.trying = false;
    }
  }

  async #try(who: string | null, pin: string): Promise<void> {
    const { now, shelf, entered } = this.#ports;
    const lock = await this.#take();
    if (lock === null) return;
    const done = await unlock(lock.vault, who, pin, now());
    if (!done.ok) {
      // Counted on the disk before it is told, so that a reload wins nothing.
      const put = await shelf.put({ ...lock, vault: done.record });
      this.#waits(done.until);
      // Whether there is such a person is nobody's business out here.
      this.refused = !put.ok ? put.fault : done.fault === 'pin_wait' ? 'pin_wait' : 'pin_wrong';
      return;
    }
    this.refused = null;
    entered({
      kind: kindOf(lock),
      place: lock.place,
      vault: done.vault,
      wrong: lock.vault.wrong,
      settle: async () => {
        const fresh = await this.#take();
        if (fresh === null) return;
        const vault = { ...fresh.vault, wrong: done.record.wrong };
        await shelf.put({ ...fresh, vault });
      },
    });
  }

  async #take(): Promise<LockRecord | null> {
    const taken = await this.#ports.shelf.take();
    const lock = taken.ok ? lockOf(taken.value) : null;
    if (lock === null) this.refused = taken.ok ? 'lock_broken' : taken.fault;
    return lock;
  }

  #waits(until: number): void {
    // A clock that was set back must not make the wait longer than its own length.
    const longest = this.#ports.now() + waitAfter(Infinity);
    this.until = until > longest ? 0 : until;
  }
}

function kindOf({ vault }: LockRecord): Entered['kind'] {
  return vault.slots.some(({ kind }) => kind === 'pin') ? 'pins' : 'unit';
}
