/** Which voice speaks. `captions` is no voice: the words stand on the screen only. */
export type VoiceName = 'system' | 'bundled' | 'captions';

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
