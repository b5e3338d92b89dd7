import { ChainCheck, type ChainFault, type Digest } from '../charting/chain.ts';
import type { LedgerEvent } from '../charting/events.ts';
import type { Ledger, Page, Place, Unreadable } from '../storage/ledger.ts';

export interface CheckPorts {
  readonly ledger: Pick<Ledger, 'read' | 'count'>;
  readonly digest: Digest;
  /** Lets the page draw and hear the person between two parts. */
  readonly breathe: () => Promise<void>;
  /** This device's own id in the record, or null where it is not known. */
  readonly device: string | null;
  /** Events between two breaths. */
  readonly part?: number;
}

/** A fault with the event as it stands now, where there is one to look at. */
export interface NamedFault extends ChainFault {
  readonly event: LedgerEvent | null;
  /** True when this very device wrote that chain. */
  readonly here: boolean;
}

export type CheckStage = 'idle' | 'checking' | 'stopped' | 'done' | 'failed';

/** One going-through of the record; another takes its place when it is begun anew. */
type Running = symbol;

/** Faults that are kept by name; more are only counted. */
const mostNamed = 20;

/**
 * Whether the record is what was written: every event's hash and its place in its device's chain,
 * a part at a time, so that the page stays alive and memory flat.
 *
 * It begins where it stopped. Once all was looked at, only what came since is looked at, until
 * somebody asks for the whole again.
 */
export class RecordCheck {
  readonly #ports: CheckPorts;
  #check: ChainCheck;
  #stage = $state.raw<CheckStage>('idle');
  #done = $state.raw(0);
  #all = $state.raw(0);
  #faults = $state.raw<readonly NamedFault[]>([]);
  #more = $state.raw(0);
  /** Where to go on, and the chains that are done to a place already. */
  #after: Place | null = null;
  #skip: readonly Place[] = [];
  #running: Running | null = null;
  #work: Promise<void> = Promise.resolve();

  constructor(ports: CheckPorts) {
    this.#ports = ports;
    this.#check = new ChainCheck(ports.digest);
  }

  get stage(): CheckStage {
    return this.#stage;
  }

  /** Events looked at so far. */
  get done(): number {
    return this.#done;
  }

  /** Events of the record when the check began. */
  get all(): number {
    return this.#all;
  }

  get devices(): number {
    return this.#check.ends().size;
  }

  /** In the order found; the first so many. */
  get faults(): readonly NamedFault[] {
    return this.#faults;
  }

  /** Faults beyond those that are named. */
  get more(): number {
    return this.#more;
  }

  /** Look at what was not looked at yet. Does nothing while it is on its way. */
  run(): Promise<void> {
    return this.#running === null ? this.#begin(false) : this.#work;
  }

  /** Look at the whole record from its beginning. */
  runAnew(): Promise<void> {
    this.stop();
    return this.#begin(true);
  }

  stop(): void {
    if (this.#running === null) return;
    this.#running = null;
    this.#stage = 'stopped';
  }

  #begin(anew: boolean): Promise<void> {
    const running = Symbol('running');
    this.#running = running;
    this.#stage = 'checking';
    // One that was stopped finishes its part first, so that no event is looked at twice.
    this.#work = this.#work.then(() => this.#go(running, anew));
    return this.#work;
  }

  async #go(running: Running, anew: boolean): Promise<void> {
    if (anew) this.#forget();
    const all = await this.#ports.ledger.count();
    this.#all = all.ok ? all.value : this.#done;
    const whole = all.ok && (await this.#readOn(running));
    if (this.#running !== running) return;
    this.#running = null;
    this.#stage = whole ? 'done' : 'failed';
  }

  #forget(): void {
    this.#check = new ChainCheck(this.#ports.digest);
    this.#done = 0;
    this.#faults = [];
    this.#more = 0;
    this.#after = null;
    this.#skip = [];
  }

  /** True when it came to the end. */
  async #readOn(running: Running): Promise<boolean> {
    const { ledger, breathe, part = 100 } = this.#ports;
    for (;;) {
      const page = await ledger.read(this.#after, part);
      if (this.#running !== running) return false;
      const next = page.ok ? await this.#lookAt(page.value) : await this.#lookPast(page);
      if (next === 'failed') return false;
      if (next === null) break;
      this.#after = next;
      await breathe();
      if (this.#running !== running) return false;
    }
    // From here on only the ends of the chains are new.
    this.#after = null;
    this.#skip = [...this.#check.ends()].map(([device, { seq }]) => ({ device, seq }));
    return true;
  }

  /** Look at a part; gives where to go on, or null at the end. */
  async #lookAt({ events, next }: Page): Promise<Place | null> {
    // The page is told once a part, not once an event.
    let looked = 0;
    let known: Place | null = null;
    for (const event of events) {
      known = this.#known(event);
      if (known !== null) break;
      this.#note(await this.#check.add(event), event);
      looked += 1;
    }
    this.#done += looked;
    return known ?? next;
  }

  /** Behind an event that can not be opened, or `failed` where it is not known which it is. */
  async #lookPast(fault: { readonly ok: false } | Unreadable): Promise<Place | 'failed' | null> {
    if (!('at' in fault)) return 'failed';
    const { device, seq } = fault.at;
    const next = await this.#lookAt({ events: fault.before, next: fault.at });
    if (next !== fault.at) return next;
    const known = this.#known(fault.at);
    if (known !== null) return known;
    const before = this.#check.faults.length;
    this.#check.addUnreadable(device, seq);
    this.#note(this.#check.faults.slice(before), null);
    this.#done += 1;
    return fault.at;
  }

  /** Where the part of this chain ends that was looked at before; it is jumped over once. */
  #known({ device, seq }: Place): Place | null {
    const known = this.#skip.find((place) => place.device === device);
    this.#skip = this.#skip.filter((place) => place !== known);
    return known === undefined || seq > known.seq ? null : known;
  }

  #note(faults: readonly ChainFault[], event: LedgerEvent | null): void {
    if (faults.length === 0) return;
    const room = Math.max(0, mostNamed - this.#faults.length);
    const named = faults.slice(0, room).map((fault) => ({
      ...fault,
      event: fault.id === null ? null : event,
      here: fault.device === this.#ports.device,
    }));
    this.#faults = [...this.#faults, ...named];
    this.#more += faults.length - named.length;
  }
}
