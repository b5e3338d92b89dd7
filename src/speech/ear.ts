import type { Expectation } from '../grammar/expectation.ts';

/** Which engine listens. `remote` is the browser's engine when sound may leave the device. */
export type EarName = 'bundled' | 'browser' | 'remote' | 'typed';

/** One way an engine understood an utterance. Confidences of two engines do not compare. */
export interface Alternative {
  readonly transcript: string;
  /** 0 to 1. */
  readonly confidence: number;
}

/** One finished utterance, best alternative first. */
export interface Hearing {
  readonly ear: EarName;
  readonly alternatives: readonly Alternative[];
  /** The engine's own verdict: `none` is speech that fits nothing expected (`nomatch`). */
  readonly fit: 'taken' | 'doubtful' | 'none';
  /** When the last word ended, ms since the Unix epoch. */
  readonly at: number;
}

/** Why an ear can not listen, or stopped. One error of the catalogue stands behind each. */
export type EarFault =
  | 'microphone_denied'
  | 'microphone_missing'
  | 'microphone_lost'
  | 'engine_missing'
  | 'engine_silent'
  | 'engine_failed'
  | 'language_missing'
  | 'remote_refused'
  | 'sound_suspended';

export type EarSignal =
  | { readonly type: 'ready' }
  /** Sound level of the last tenth of a second, 0 to 1. */
  | { readonly type: 'level'; readonly level: number }
  | { readonly type: 'speaking' }
  | { readonly type: 'heard'; readonly hearing: Hearing }
  | { readonly type: 'poor'; readonly why: 'loud' | 'faint' }
  | { readonly type: 'fault'; readonly fault: EarFault }
  /** The session ended by itself; the ear's machine decides whether to open it again. */
  | { readonly type: 'ended' };

/**
 * The port that the conversation listens through. One adapter serves every engine that keeps the
 * W3C `SpeechRecognition` contract; typing is the other.
 */
export interface Ear {
  readonly name: EarName;
  /** Start listening for this expectation. Signals go to `tell` until `close`. */
  open(expectation: Expectation, tell: (signal: EarSignal) => void): void;
  /** Swap what is expected, without a gap where the engine allows it. */
  expect(expectation: Expectation): void;
  /** Stop at once; what was said so far is dropped. */
  close(): void;
}
