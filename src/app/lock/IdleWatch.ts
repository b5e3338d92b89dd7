export interface IdlePorts {
  /** ms since the Unix epoch. */
  readonly now: () => number;
  /** Idle time after which the unit is locked, ms. */
  readonly limit: () => number;
  /** True while gloves are on: nothing is locked, and the time does not begin. */
  readonly gloved: () => boolean;
  /** True while only this page holds something: nothing is locked until it is kept. */
  readonly busy: () => boolean;
  readonly lock: () => void;
}

/**
 * Locks after a time in which nobody did anything.
 *
 * It compares times and does not count ticks, so that a tablet that slept is locked as it wakes. With
 * gloves on the time does not begin: after them there is the whole of it again. What is being kept
 * puts the lock off and not the time back, or a unit that writes often would never be locked.
 */
export class IdleWatch {
  readonly #ports: IdlePorts;
  #last: number;
  #locked = false;

  constructor(ports: IdlePorts) {
    this.#ports = ports;
    this.#last = ports.now();
  }

  /** Somebody did something, or something was said to them. */
  touch(): void {
    // What wakes a sleeping tablet is not yet a sign that it is in the right hands.
    this.check();
    this.#last = this.#ports.now();
  }

  /** Called every few seconds and when the page comes into view. */
  check(): void {
    const { now, limit, gloved, busy, lock } = this.#ports;
    const idle = now() - this.#last;
    // A clock that was set back must not keep the unit open for as long.
    if (gloved() || idle < 0) this.#last = now();
    else if (idle >= limit() && !busy() && !this.#locked) {
      this.#locked = true;
      lock();
    }
  }
}
