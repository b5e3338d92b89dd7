/** Which voice speaks. `captions` is no voice: the words stand on the screen only. */
export type VoiceName = 'system' | 'bundled' | 'captions';

/** How a voice speaks on this device; 1 is its own way. */
export interface Manner {
  /** 0 to 1. */
  readonly volume: number;
  /** 0.5 is half as fast, 2 twice as fast. */
  readonly rate: number;
}

/** The port that the conversation speaks through. */
export interface Voice {
  readonly name: VoiceName;
  /**
   * Say one short text. Resolves when the last word has ended.
   *
   * @throws when nothing could be said aloud; the caller shows the caption all the same
   */
  say(text: string, signal: AbortSignal): Promise<void>;
}
