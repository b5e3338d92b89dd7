import type { FliteVoice } from '../../../src/speech/voices/flite.ts';

/** What the ear was tuned on. */
export const tuned = {
  voices: ['slt', 'kal16'] satisfies FliteVoice[],
  seed: 100,
  sentence: (_: unknown, index: number): boolean => index % 2 === 0,
} as const;

/** What it is judged on: other voices, other sentences, other noise. */
export const heldOut = {
  voices: ['rms', 'awb'] satisfies FliteVoice[],
  seed: 500,
  sentence: (_: unknown, index: number): boolean => index % 2 === 1,
} as const;
