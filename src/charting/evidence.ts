import type { Millilitres } from '../measure/volume.ts';

/** One utterance as an ear understood it, best alternative first, and what was made of it. */
export interface HeardWords {
  /** Name of the ear, as the speech room names it: `bundled`, `browser`, `remote`, `typed`. */
  readonly ear: string;
  /** When the last word ended, ms since the Unix epoch. */
  readonly at: number;
  /** Confidence is 0 to 1 and compares only within one ear. */
  readonly alternatives: readonly { readonly transcript: string; readonly confidence: number }[];
  readonly fit: 'taken' | 'doubtful' | 'none';
  /** The volume it was taken for, or null when it was no volume. */
  readonly made: Millilitres | null;
}

/** What weighing said of a reading. Codes belong to the room that weighs; numbers are its figures. */
export interface NotedFinding {
  readonly code: string;
  readonly numbers?: Readonly<Record<string, number>>;
}

/** What the look step took: a code of the unit's list and the words that were said. */
export interface NotedLook {
  readonly code: string;
  readonly words: string;
}

/** How an amount was worked out from what was said: a weighed pad, melted ice, cups. */
export interface Working {
  readonly code: string;
  /** The figures that went in, by name, in the unit the name says: `wetGrams`, `iceMillilitres`. */
  readonly numbers: Readonly<Record<string, number>>;
}

/** What was heard and said around a reading, kept beside what was made of it. */
export interface Evidence {
  /** Every utterance of this reading, oldest first. */
  readonly heard: readonly HeardWords[];
  /** The last read-back as it was spoken, or null when nothing was read back. */
  readonly readBack: string | null;
  /** The words that settled it, or null when it was parked. */
  readonly answer: string | null;
  /** How often it was asked for, 1 or more. */
  readonly tries: number;
  readonly findings: readonly NotedFinding[];
  readonly looks: readonly NotedLook[];
  readonly working: Working | null;
}
