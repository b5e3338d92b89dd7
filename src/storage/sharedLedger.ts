import type { LedgerEvent } from '../charting/events.ts';
import type { GroupKind } from '../charting/group.ts';
import type { GroupQuery, Ledger, Place, Result, Appended } from './ledger.ts';
import { Listeners } from './listeners.ts';
import type { WriterLock } from './writerLock.ts';

type Channel = Pick<BroadcastChannel, 'postMessage' | 'addEventListener'>;

/**
 * A ledger that several tabs of one browser share: the writer appends and tells, the others read the
 * same store, hear what grew, and are refused when they append.
 */
export class SharedLedger implements Ledger {
  readonly #ledger: Ledger;
  readonly #lock: WriterLock;
  readonly #listeners = new Listeners<readonly string[]>();

  constructor(ledger: Ledger, lock: WriterLock, channel: Channel) {
    this.#ledger = ledger;
    this.#lock = lock;
    ledger.subscribe((groups) => {
      this.#listeners.tell(groups);
      channel.postMessage(groups);
    });
    channel.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
      if (isGroups(data)) this.#listeners.tell(data);
    });
  }

  async append(events: readonly LedgerEvent[]): Promise<Result<Appended>> {
    const { state } = this.#lock;
    if (state === 'writer' || state === 'alone') return this.#ledger.append(events);
    return { ok: false, fault: 'not_writer' };
  }

  groups = (query: GroupQuery) => this.#ledger.groups(query);
  group = (id: string) => this.#ledger.group(id);
  countOpen = (kind: GroupKind) => this.#ledger.countOpen(kind);
  tail = (device: string) => this.#ledger.tail(device);
  read = (after: Place | null, limit: number) => this.#ledger.read(after, limit);
  count = () => this.#ledger.count();

  subscribe(listener: (groups: readonly string[]) => void): () => void {
    return this.#listeners.add(listener);
  }
}

function isGroups(data: unknown): data is readonly string[] {
  return Array.isArray(data) && data.every((group) => typeof group === 'string');
}
