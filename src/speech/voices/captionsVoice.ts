import type { Voice } from '../voice.ts';

/** No voice at all: whoever asks it to speak shows the caption and waits while it is read. */
export const captionsVoice: Voice = {
  name: 'captions',
  say: () => Promise.reject(new Error('no_voice: the words stand on the screen only')),
};
