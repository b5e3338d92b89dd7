/** How loud a voice was, and its room. */
export interface Levels {
  /** dB of full scale. */
  readonly voiceLevel: number;
  /** The voice over the room, dB. */
  readonly overRoom: number;
}

/** Under this over the room, a lost utterance was lost to noise, dB. */
const LOUD_ROOM = 14;
/** Under this, it was lost to distance, dB of full scale. */
const FAINT_VOICE = -50;
/** Faint, and as near to the room as this: nobody spoke, dB. */
const NOBODY = 3;

/** Why an utterance was lost; null where it was plain to hear, or where nobody spoke. */
export function whyPoor({ overRoom, voiceLevel }: Levels): 'loud' | 'faint' | null {
  if (voiceLevel < FAINT_VOICE) return overRoom < NOBODY ? null : 'faint';
  return overRoom < LOUD_ROOM ? 'loud' : null;
}
