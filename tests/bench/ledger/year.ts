import { sealFacts, type Digest, type Tail, type Unsealed } from '../../../src/charting/chain.ts';
import type { Author, Fact, LedgerEvent } from '../../../src/charting/events.ts';
import { uuid, uuidRandomBytes } from '../../../src/charting/uuid.ts';
import type { FluidKind } from '../../../src/measure/fluid.ts';
import { millilitres } from '../../../src/measure/volume.ts';

export const beds: readonly string[] = Array.from({ length: 60 }, (_, n) => `Bed ${n + 1}`);
export const yearStart = Date.UTC(2025, 0, 1);
export const dayMs = 24 * 3_600_000;
/** 250,000 entries in 365 days. */
export const entriesADay = 685;

/** A small generator of even numbers, 0 to 2^32 - 1 (xorshift32): the same seed, the same year. */
function numbersFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  };
}

const kinds: readonly FluidKind[] = [
  'urineCatheter',
  'urineCatheter',
  'urineVoided',
  'oralFluid',
  'oralFluid',
  'emesis',
  'ostomy',
];

/** An invented year of a wing, made a day at a time. Three tablets write in turn. */
export class Year {
  readonly #next: () => number;
  readonly #digest: Digest;
  readonly #tails = new Map<string, Tail>();
  readonly #devices: readonly string[];

  /** @param seed - a whole number, not 0: another one makes other devices and another year */
  constructor(digest: Digest, seed: number) {
    this.#next = numbersFrom(seed);
    this.#digest = digest;
    this.#devices = [1, 2, 3].map(() => this.#id(yearStart));
  }

  /**
   * The events of one day, four or five for each entry: walk, draft, walk's end, and a decision.
   *
   * @param entries - how many entries the day has
   * @param decided - share of them that is confirmed, 0 to 1
   */
  async day(day: number, entries: number, decided: number): Promise<LedgerEvent[]> {
    const start = yearStart + day * dayMs;
    const times = Array.from({ length: entries }, () => start + (this.#next() % dayMs)).sort(
      (one, other) => one - other,
    );
    const byDevice = new Map<string, Unsealed[]>(this.#devices.map((device) => [device, []]));
    for (const [place, ms] of times.entries()) {
      const device = this.#devices[this.#next() % this.#devices.length] ?? '';
      byDevice.get(device)?.push(...this.#entry(ms, place / entries < decided));
    }
    const sealed: LedgerEvent[] = [];
    for (const [device, facts] of byDevice) {
      facts.sort((one, other) => one.at.ms - other.at.ms);
      const tail = this.#tails.get(device) ?? null;
      const events = await sealFacts(device, tail, facts, this.#digest);
      const last = events.at(-1);
      if (last) this.#tails.set(device, { seq: last.seq, hash: last.hash, ms: last.at.ms });
      sealed.push(...events);
    }
    return sealed;
  }

  #id(ms: number): string {
    const random = new Uint8Array(uuidRandomBytes);
    for (let n = 0; n < random.length; n += 1) random[n] = this.#next() & 255;
    return uuid(ms, random);
  }

  #entry(ms: number, decided: boolean): Unsealed[] {
    const by: Author = { initials: `A${this.#next() % 9}`, role: 'aide' };
    const nurse: Author = { initials: `N${this.#next() % 5}`, role: 'nurse' };
    const bed = beds[this.#next() % beds.length] ?? '';
    const kind = kinds[this.#next() % kinds.length] ?? 'urineCatheter';
    const mL = millilitres((1 + (this.#next() % 40)) * 25);
    const [walk, entry] = [this.#id(ms), this.#id(ms)];
    const made: Unsealed[] = [];
    const add = (after: number, who: Author, fact: Fact): string => {
      const at = { ms: ms + after, offset: 0 };
      const id = this.#id(at.ms);
      made.push({ id, at, by: who, fact });
      return id;
    };
    add(-60_000, by, { type: 'walk.started', walk, procedure: 'drainage-bag', bed });
    const saw = add(180_000, by, {
      type: 'entry.drafted',
      entry,
      walk,
      bed,
      kind,
      amount: { method: 'measured', mL, fills: [mL] },
      candidates: [],
      readAt: { ms, offset: 0 },
      reader: by.initials,
      procedure: 'drainage-bag',
      container: 'graduate-1000',
      bag: 'bedside-2000',
      evidence: {
        heard: [
          {
            ear: 'bundled',
            at: ms,
            alternatives: [{ transcript: `${mL} milliliters`, confidence: 0.93 }],
            fit: 'taken',
            made: mL,
          },
        ],
        readBack: `${mL} milliliters. Correct?`,
        answer: 'correct',
        tries: 1,
        findings: [],
        looks: [{ code: 'clear', words: 'clear' }],
        working: null,
      },
      note: '',
    });
    add(200_000, by, { type: 'walk.ended', walk, outcome: 'completed', reason: '' });
    if (!decided) return made;
    const reviewed = 1_800_000 + (this.#next() % 3_600_000);
    const lot = this.#next() % 100;
    if (lot < 95) add(reviewed, nurse, { type: 'entry.confirmed', entry, saw });
    else if (lot < 97) {
      add(reviewed, nurse, { type: 'entry.struck', entry, saw, reason: 'wrong bed' });
    } else {
      const head = add(reviewed, nurse, { type: 'entry.confirmed', entry, saw });
      const more = millilitres(mL + 25);
      const change = {
        was: { method: 'measured', mL, fills: [mL] },
        is: { method: 'measured', mL: more, fills: [more] },
      } as const;
      const reason = 'misread';
      const changes = { amount: change };
      add(reviewed + 1, nurse, { type: 'entry.amended', entry, saw: head, reason, changes });
    }
    return made;
  }
}
