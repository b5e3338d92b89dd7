import type { Author } from '../../charting/events.ts';
import type { Result } from '../../storage/ledger.ts';
import type { Watched, WholeRecord } from '../../storage/vault/copyRecord.ts';
import { lockOf, type LockRecord } from '../../storage/vault/lockRecord.ts';
import { sealedName, valueOf, type LockShelf } from '../../storage/vault/lockShelf.ts';
import { calibrated, leastCost, stretch, type StretchCost } from '../../storage/vault/stretch.ts';
import { turnOff, turnOn } from '../../storage/vault/turnLock.ts';
import {
  membersOf,
  newVault,
  withRecoveryCode,
  withRoster,
  withSecret,
  type OpenVault,
  type Secret,
  type VaultRecord,
} from '../../storage/vault/vault.ts';
import type { Cipher } from '../../storage/cipher.ts';

/** A lock that was made and not put on yet, with the code that is shown once. */
export interface PreparedLock {
  readonly code: string;
  /** Put it on, once: where that was stopped or failed, another lock is to be made. */
  put(watched: Watched): Promise<Result<void>>;
}

export interface LockPorts {
  readonly shelf: LockShelf;
  /** The plain record of this device. */
  readonly plain: () => WholeRecord;
  /** A record in a database of its own, under a key. */
  readonly sealed: (place: string, cipher: Cipher) => WholeRecord;
  /** ms since some moment. */
  readonly clock: () => number;
}

/**
 * What is done to a lock once somebody is in. This is loaded only where a lock is put on or changed,
 * as it brings Argon2id with it.
 */
export class LockWork {
  readonly #ports: LockPorts;
  #cost: StretchCost | null = null;

  constructor(ports: LockPorts) {
    this.#ports = ports;
  }

  /** Make a lock and its recovery code; nothing is sealed yet. */
  async prepare(first: Secret): Promise<PreparedLock> {
    const { shelf, plain, sealed } = this.#ports;
    const made = await newVault(first, await this.#costHere());
    const place = sealedName(crypto.randomUUID());
    const lock: LockRecord = { v: 1, place, vault: made.record };
    return {
      code: made.code,
      put: (watched) =>
        turnOn(
          { ...watched, shelf, plain: plain(), sealed: sealed(place, made.vault.cipher) },
          lock,
        ),
    };
  }

  /** Bring the record back into the clear and take the lock away. */
  async open(vault: OpenVault, watched: Watched): Promise<Result<void>> {
    const { shelf, plain, sealed } = this.#ports;
    const { place } = await this.#lock();
    return turnOff({ ...watched, shelf, plain: plain(), sealed: sealed(place, vault.cipher) });
  }

  async members(vault: OpenVault): Promise<readonly Author[]> {
    return membersOf((await this.#lock()).vault, vault);
  }

  async setSecret(vault: OpenVault, secret: Secret): Promise<void> {
    const cost = await this.#costHere();
    await this.#change((record) => withSecret(record, vault, secret, cost));
  }

  async newCode(vault: OpenVault): Promise<string> {
    const cost = await this.#costHere();
    let code = '';
    await this.#change(async (record) => {
      const renewed = await withRecoveryCode(record, vault, cost);
      code = renewed.code;
      return renewed.record;
    });
    return code;
  }

  /** False where nobody would be left to set the unit up; then nothing is changed. */
  async followRoster(vault: OpenVault, roster: readonly Author[]): Promise<boolean> {
    let followed = true;
    await this.#change(async (record) => {
      const changed = await withRoster(record, vault, roster);
      followed = changed !== null;
      return changed ?? record;
    });
    return followed;
  }

  async #lock(): Promise<LockRecord> {
    const lock = lockOf(valueOf(await this.#ports.shelf.take()));
    if (lock === null)
      throw new Error('lock_broken: the lock that was opened is not there any more');
    return lock;
  }

  /** Read anew for each change: another tab may have counted a wrong try meanwhile. */
  async #change(change: (record: VaultRecord) => Promise<VaultRecord>): Promise<void> {
    const lock = await this.#lock();
    const vault = await change(lock.vault);
    if (vault !== lock.vault) valueOf(await this.#ports.shelf.put({ ...lock, vault }));
  }

  async #costHere(): Promise<StretchCost> {
    this.#cost ??= await calibrated((cost) => this.#timed(cost));
    return this.#cost;
  }

  /** The first try compiles; only the second is measured. */
  async #timed(cost: StretchCost): Promise<number> {
    const salt = new Uint8Array(16);
    if (cost.memory === leastCost.memory) await stretch('warm up', salt, cost);
    const before = this.#ports.clock();
    await stretch('measured', salt, cost);
    return this.#ports.clock() - before;
  }
}
