import type { Desk } from '../Desk.svelte.ts';

const mark = 'gloveside-demo';

type Shelf = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

export interface DoorPorts {
  /** Where it is noted that this tab is in the demo; throws where the browser keeps nothing. */
  readonly shelf: () => Shelf;
  /** Loads the demo wing, which nobody else pays for. */
  readonly load: () => Promise<{
    readonly openWing: () => Promise<Desk>;
    readonly resetWing: (desk: Desk) => Promise<Desk>;
  }>;
}

/** The way into the demo wing and out of it. While it is open, every screen shows the demo's desk. */
export class DemoDoor {
  state = $state<'shut' | 'opening' | 'open' | 'failed'>('shut');
  /** The demo's desk, or null while the unit's own is in use. */
  desk = $state.raw<Desk | null>(null);
  readonly #ports: DoorPorts;

  constructor(ports: DoorPorts) {
    this.#ports = ports;
  }

  /** True when this tab was in the demo before it was reloaded. */
  get wasOpen(): boolean {
    try {
      return this.#ports.shelf().getItem(mark) !== null;
    } catch {
      return false;
    }
  }

  async enter(): Promise<void> {
    if (this.state === 'opening' || this.state === 'open') return;
    await this.#open(async ({ openWing }) => openWing());
  }

  /** Begin the demo anew. */
  async reset(): Promise<void> {
    const { desk } = this;
    if (desk === null) return;
    await this.#open(async ({ resetWing }) => resetWing(desk));
  }

  leave(): void {
    this.desk?.leave();
    this.desk = null;
    this.state = 'shut';
    this.#note(false);
  }

  async #open(how: (room: Awaited<ReturnType<DoorPorts['load']>>) => Promise<Desk>): Promise<void> {
    this.state = 'opening';
    try {
      this.desk = await how(await this.#ports.load());
      this.state = 'open';
      this.#note(true);
    } catch {
      this.desk = null;
      this.state = 'failed';
      this.#note(false);
    }
  }

  #note(open: boolean): void {
    try {
      if (open) this.#ports.shelf().setItem(mark, 'open');
      else this.#ports.shelf().removeItem(mark);
    } catch {
      // Only a reload would have needed it.
    }
  }
}
