import { expect, it } from 'vitest';
import { whyPoor } from './whyPoor.ts';

it.each([
  ['a voice at arm’s length in a quiet room', -30, 35, null],
  ['the same beside a fan', -25, 8, 'loud'],
  ['the same under a running tap', -20, 1, 'loud'],
  ['a voice from the door of a quiet room', -58, 9, 'faint'],
  ['a still room in which nobody spoke', -66, 0.5, null],
])('%s, %d dB and %d dB over the room: %s', (_, voiceLevel, overRoom, why) => {
  expect(whyPoor({ voiceLevel, overRoom })).toBe(why);
});
