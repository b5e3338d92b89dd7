import type { Author, EventOf } from '../../charting/events.ts';
import type { Ledger, Result } from '../../storage/ledger.ts';
import type { Persistence } from '../../storage/persistence.ts';
import type { StateStore } from '../../storage/stateStore.ts';
import type { Watched } from '../../storage/vault/copyRecord.ts';
import type { OpenVault, Secret } from '../../storage/vault/vault.ts';
import type { LockWork, PreparedLock } from './lockWork.ts';

export type LockKind = 'none' | 'unit' | 'pins';

export type LockFault =
  /** Only whoever sets the unit up may do this. */
  | 'setup_only'
  /** Nobody who sets the unit up would have a PIN. */
  | 'setup_missing';

export interface UnitLockPorts {
  readonly kind: LockKind;
  /** What was opened, or null where there is no lock. */
  readonly vault: OpenVault | null;
  readonly states: Pick<StateStore, 'take' | 'put'>;
  readonly ledger: Pick<Ledger, 'groups'>;
  /** ms since the Unix epoch. */
  readonly now: () => number;
  /** Load what changes a lock. */
  readonly work: () => Promise<LockWork>;
  /** Ask the browser to keep what is stored. */
  readonly persist: () => Promise<Persistence>;
  /** A page with gloves on, or with something that only it holds, is not locked. */
  readonly busy: () => boolean;
  /** True while a walk is on its way. */
  readonly walking: () => boolean;
  /** Write down that it was locked, then forget all keys: the page begins anew. */
  readonly leave: (why: 'locked' | 'changed') => Promise<void>;
}

export type LockNote = EventOf<'lock.noted'>;

/** How far back the notes of the lock are shown, ms. */
const notesBack = 7 * 24 * 3_600_000;

/** Minutes without a touch or a word after which a unit is locked, before anybody chose. */
export const usualIdle = 5;
const idleRange = { least: 1, most: 60 };

/** The lock of the unit, as somebody who is in meets it. */
export class UnitLock {
  readonly kind: LockKind;
  /** Opened with the recovery code: a new PIN and a new code are due. */
  readonly recovered: boolean;
  /** Minutes. */
  idle = $state.raw(usualIdle);
  readonly #ports: UnitLockPorts;

  constructor(ports: UnitLockPorts) {
    this.#ports = ports;
    this.kind = ports.kind;
    this.recovered = ports.vault?.kind === 'recovery';
  }

  async open(): Promise<void> {
    const idle = await this.#ports.states.take('idle');
    if (idle.ok && isIdle(idle.value)) this.idle = idle.value;
  }

  /** Whether this person may change the settings of the unit, and the lock. */
  mayChange(by: Author): boolean {
    return this.kind === 'none' || by.role === 'setup';
  }

  get busy(): boolean {
    return this.#ports.busy();
  }

  /** While this holds a lock is neither put on nor taken off. */
  get turnable(): boolean {
    return !this.#ports.walking() && !this.busy;
  }

  persist(): Promise<Persistence> {
    return this.#ports.persist();
  }

  async setIdle(minutes: number): Promise<Result<void>> {
    const idle = isIdle(minutes) ? minutes : this.idle;
    const put = await this.#ports.states.put('idle', idle);
    if (put.ok) this.idle = idle;
    return put;
  }

  /** Lock now. False where the page is busy and stays open. */
  async lockNow(): Promise<boolean> {
    if (this.kind === 'none' || this.busy) return false;
    await this.#ports.leave('locked');
    return true;
  }

  /** Make a lock for a unit that has none; it is on once it was put. */
  async prepare(first: Secret): Promise<PreparedLock> {
    return (await this.#ports.work()).prepare(first);
  }

  /** Seal the record; the page then begins anew, at the lock. */
  async putOn(lock: PreparedLock, watched: Watched): Promise<Result<void>> {
    const done = await lock.put(watched);
    if (done.ok) await this.#ports.leave('changed');
    return done;
  }

  /** Take the lock off: everything is readable on this device again. */
  async takeOff(watched: Watched): Promise<Result<void>> {
    const { vault, work, leave } = this.#ports;
    if (vault === null) return { ok: true, value: undefined };
    const done = await (await work()).open(vault, watched);
    if (done.ok) await leave('changed');
    return done;
  }

  /** Who has a PIN. */
  async members(): Promise<readonly Author[]> {
    const { vault, work } = this.#ports;
    return vault === null ? [] : (await work()).members(vault);
  }

  async setSecret(secret: Secret): Promise<void> {
    const { vault, work } = this.#ports;
    if (vault !== null) await (await work()).setSecret(vault, secret);
  }

  async newCode(): Promise<string> {
    const { vault, work } = this.#ports;
    if (vault === null) throw new Error('lock_none: there is no lock to recover');
    return (await work()).newCode(vault);
  }

  /** What the lock saw lately, newest first. */
  async notes(): Promise<readonly LockNote[]> {
    const { ledger, now } = this.#ports;
    const span = { from: now() - notesBack, to: now() + 1 };
    const found = await ledger.groups({ kind: 'note', span });
    if (!found.ok) return [];
    return found.value
      .flat()
      .filter((event) => event.type === 'lock.noted')
      .reverse();
  }

  /** Bring the PINs in line with a roster before it is used. */
  async followRoster(roster: readonly Author[]): Promise<LockFault | null> {
    const { kind, vault, work } = this.#ports;
    if (kind !== 'pins' || vault === null) return null;
    return (await (await work()).followRoster(vault, roster)) ? null : 'setup_missing';
  }
}

function isIdle(value: unknown): value is number {
  const { least, most } = idleRange;
  return Number.isInteger(value) && Number(value) >= least && Number(value) <= most;
}
