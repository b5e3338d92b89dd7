/** What a tone says. */
export type Tone = 'listening' | 'heard' | 'notUnderstood';

interface Note {
  /** Hz */
  readonly pitch: number;
  /** Seconds from the start of the tone. */
  readonly at: number;
  /** Seconds. */
  readonly length: number;
}

/**
 * Up for "I listen", one short high note for "heard", down for "not understood": told apart by
 * direction, since over running water the pitch alone is not.
 */
export const tones: Readonly<Record<Tone, readonly Note[]>> = {
  listening: [
    { pitch: 660, at: 0, length: 0.09 },
    { pitch: 990, at: 0.1, length: 0.12 },
  ],
  heard: [{ pitch: 1320, at: 0, length: 0.08 }],
  notUnderstood: [
    { pitch: 520, at: 0, length: 0.12 },
    { pitch: 390, at: 0.14, length: 0.18 },
  ],
};

/** Loudness of a tone, 0 to 1: heard at three metres, no fright beside the ear. */
const LOUDNESS = 0.25;
/** Seconds of rise and fall, without which a tone clicks. */
const EDGE = 0.012;

/** Play a tone. @returns how long it sounds, ms: the ear stays shut for that time */
export function playTone(context: AudioContext, tone: Tone): number {
  const notes = tones[tone];
  const start = context.currentTime + 0.01;
  for (const { pitch, at, length } of notes) {
    const gain = new GainNode(context, { gain: 0 });
    const oscillator = new OscillatorNode(context, { type: 'sine', frequency: pitch });
    oscillator.connect(gain).connect(context.destination);
    gain.gain.setValueAtTime(0, start + at);
    gain.gain.linearRampToValueAtTime(LOUDNESS, start + at + EDGE);
    gain.gain.setValueAtTime(LOUDNESS, start + at + length - EDGE);
    gain.gain.linearRampToValueAtTime(0, start + at + length);
    oscillator.start(start + at);
    oscillator.stop(start + at + length);
  }
  return 1000 * Math.max(...notes.map(({ at, length }) => at + length));
}
