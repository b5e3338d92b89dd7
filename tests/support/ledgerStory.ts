import { createHash } from 'node:crypto';
import { sealFacts, type Digest, type Tail } from '../../src/charting/chain.ts';
import type { Author, EntryDrafted, Fact, EventOf } from '../../src/charting/events.ts';
import { uuid, uuidRandomBytes } from '../../src/charting/uuid.ts';
import { millilitres } from '../../src/measure/volume.ts';
import type { Moment } from '../../src/measure/moment.ts';

export const digest: Digest = async (bytes) => createHash('sha256').update(bytes).digest('hex');

export const aide: Author = { initials: 'TA', role: 'aide' };
export const nurse: Author = { initials: 'RN', role: 'nurse' };
export const otherNurse: Author = { initials: 'QB', role: 'nurse' };

/** 2026-03-02, 07:00 UTC: an invented Monday on which every story begins. */
export const storyStart = Date.UTC(2026, 2, 2, 7);

export const at = (ms: number): Moment => ({ ms, offset: 0 });

let made = 0;

/** A new id at a time; each differs from the last, and the same test makes the same ids. */
export function newId(ms: number = storyStart): string {
  made += 1;
  const random = new Uint8Array(uuidRandomBytes);
  new DataView(random.buffer).setUint32(6, made);
  return uuid(ms, random);
}

/** A whole draft of 350 mL, with what a test wants otherwise. */
export function draftFact(over: Partial<EntryDrafted> = {}): EntryDrafted {
  return {
    type: 'entry.drafted',
    entry: newId(),
    walk: null,
    bed: 'Bed 4',
    kind: 'urineCatheter',
    amount: { method: 'measured', mL: millilitres(350), fills: [millilitres(350)] },
    candidates: [],
    readAt: at(storyStart),
    reader: 'TA',
    procedure: 'drainage-bag',
    container: 'graduate-1000',
    bag: 'bedside-2000',
    evidence: null,
    note: '',
    ...over,
  };
}

/** One device that writes; its clock stands where the test put it. */
export class Pen {
  readonly device: string;
  tail: Tail | null = null;
  ms: number;

  constructor(ms: number = storyStart) {
    this.device = newId();
    this.ms = ms;
  }

  /** Seal one fact a second later, and give its event. */
  async write<F extends Fact>(by: Author, fact: F): Promise<EventOf<F['type']>> {
    this.ms += 1_000;
    const unsealed = { id: newId(this.ms), at: at(this.ms), by, fact };
    const [event] = await sealFacts(this.device, this.tail, [unsealed], digest);
    if (event === undefined) throw new Error('nothing sealed');
    this.tail = { seq: event.seq, hash: event.hash, ms: this.ms };
    return event as EventOf<F['type']>;
  }
}

/** All orders of a few things. */
export function ordersOf<T>(items: readonly T[]): T[][] {
  if (items.length < 2) return [[...items]];
  return items.flatMap((item, place) =>
    ordersOf(items.filter((_, other) => other !== place)).map((rest) => [item, ...rest]),
  );
}
