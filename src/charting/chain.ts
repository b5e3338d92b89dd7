import type { Moment } from '../measure/moment.ts';
import { canonicalJson } from './canonicalJson.ts';
import { ledgerVersion, type Author, type Fact, type LedgerEvent } from './events.ts';

/** SHA-256 of some bytes as hex. The caller brings it: WebCrypto, WASM or plain code. */
export type Digest = (bytes: Uint8Array<ArrayBuffer>) => Promise<string>;

/** Where a device's chain ends. */
export interface Tail {
  readonly seq: number;
  readonly hash: string;
  /** When its last event was recorded, ms since the Unix epoch. */
  readonly ms: number;
}

/** A fact on its way into a chain. */
export interface Unsealed {
  readonly id: string;
  readonly at: Moment;
  readonly by: Author;
  readonly fact: Fact;
}

const encoder = new TextEncoder();

/** The hash that an event must bear: over its canonical JSON without `hash`. */
export function hashOf(event: Omit<LedgerEvent, 'hash'>, digest: Digest): Promise<string> {
  return digest(encoder.encode(canonicalJson({ ...event, hash: undefined })));
}

/** Put facts at the end of a device's chain, in their order. */
export async function sealFacts(
  device: string,
  tail: Tail | null,
  facts: readonly Unsealed[],
  digest: Digest,
): Promise<LedgerEvent[]> {
  const sealed: LedgerEvent[] = [];
  let seq = tail?.seq ?? 0;
  let prev = tail?.hash ?? null;
  for (const { id, at, by, fact } of facts) {
    seq += 1;
    const open = { ...fact, v: ledgerVersion, id, device, seq, prev, at, by };
    const hash = await hashOf(open, digest);
    sealed.push({ ...open, hash });
    prev = hash;
  }
  return sealed;
}

export type ChainFaultCode =
  /** The event is not what was sealed. */
  | 'event_edited'
  /** Events between `seq` and the one before are not there. */
  | 'event_missing'
  /** It stands after one that came later. */
  | 'event_reordered'
  /** It does not follow from the event before: one of the two was made anew. */
  | 'event_replaced'
  /** The same place in the chain twice. */
  | 'event_forked';

export interface ChainFault {
  readonly code: ChainFaultCode;
  readonly device: string;
  /** Place in the chain where it was found. For `event_missing` the first that is missing. */
  readonly seq: number;
  /** Id of the event, or null for one that is missing or can not be opened. */
  readonly id: string | null;
}

interface Link {
  readonly seq: number;
  /** Null where it is not known, because the event could not be opened. */
  readonly hash: string | null;
}

/** Checks a ledger's chains one event at a time; events of several devices may be mixed. */
export class ChainCheck {
  readonly faults: ChainFault[] = [];
  readonly #links = new Map<string, Link>();
  readonly #digest: Digest;

  constructor(digest: Digest) {
    this.#digest = digest;
  }

  /**
   * Look at the next event, in the order in which it stands in the record.
   *
   * @returns the faults that it adds
   */
  async add(event: LedgerEvent): Promise<readonly ChainFault[]> {
    const { device, seq, id } = event;
    const found: ChainFault[] = [];
    const note = (code: ChainFaultCode, where: number, which: string | null): void => {
      found.push({ code, device, seq: where, id: which });
    };
    const known = this.#links.get(device);
    const last = known ?? { seq: 0, hash: null };
    const follows = known?.hash === null || event.prev === last.hash;
    if ((await hashOf(event, this.#digest)) !== event.hash) note('event_edited', seq, id);
    if (seq === last.seq) note('event_forked', seq, id);
    else if (seq < last.seq) note('event_reordered', seq, id);
    else if (seq > last.seq + 1) note('event_missing', last.seq + 1, null);
    else if (!follows) note('event_replaced', seq, id);
    if (seq > last.seq) this.#links.set(device, { seq, hash: event.hash });
    this.faults.push(...found);
    return found;
  }

  /** Note an event that can not be opened any more: whatever it was, it is not what was sealed. */
  addUnreadable(device: string, seq: number): void {
    const next = (this.#links.get(device)?.seq ?? 0) + 1;
    if (seq > next) this.faults.push({ code: 'event_missing', device, seq: next, id: null });
    this.faults.push({ code: 'event_edited', device, seq, id: null });
    this.#links.set(device, { seq, hash: null });
  }

  /** Where each device's chain ended, for comparing with what is known of it. */
  ends(): ReadonlyMap<string, Link> {
    return this.#links;
  }
}

/** All faults of a record, in the order found. Empty means intact. */
export async function verifyChains(
  events: Iterable<LedgerEvent> | AsyncIterable<LedgerEvent>,
  digest: Digest,
): Promise<readonly ChainFault[]> {
  const check = new ChainCheck(digest);
  for await (const event of events) await check.add(event);
  return check.faults;
}
