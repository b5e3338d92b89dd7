import { fliteBytes } from '../../speech/voices/fliteProgram.ts';
import { fliteSynthesis } from '../../speech/voices/fliteSynthesis.ts';
import { loadFlite } from '../../speech/voices/loadFlite.ts';
import type { Wave } from '../../speech/wave.ts';
import { deviceSettings } from '../sound/deviceSettings.svelte.ts';
import { openMouth } from './mouth.ts';

/** A simulated aide: a few sentences, said into a track that an ear can listen to. */
export interface Aide {
  readonly track: MediaStreamTrack;
  /** Resolves when it was said, or with the signal. */
  say(words: string, signal: AbortSignal): Promise<void>;
  close(): Promise<void>;
}

/** As loud in the room as this device's voice. */
const roomVolume = (): number => (deviceSettings.current.quiet ? 0 : deviceSettings.current.volume);

/**
 * Load the bundled voice and make the sentences with it; another voice than the assistant's.
 *
 * @param onprogress - how much of the voice is there, 0 to 1
 * @throws when it can not be loaded, was cancelled, or the device has no sound
 */
export async function openAide(
  sentences: readonly string[],
  onprogress: (part: number) => void,
  signal: AbortSignal,
): Promise<Aide> {
  // First, while the tap that asked for it still counts.
  const mouth = await openMouth(roomVolume);
  const waves: Record<string, Wave> = {};
  try {
    const program = await loadFlite((bytes) => {
      onprogress(Math.min(1, bytes / fliteBytes));
    }, signal);
    const synthesis = fliteSynthesis(program);
    for (const words of sentences) waves[words] = await synthesis(words, 1, 'rms');
    signal.throwIfAborted();
  } catch (error) {
    await mouth.close();
    throw error;
  }
  return {
    track: mouth.track,
    async say(words, stop) {
      const wave = waves[words];
      if (wave === undefined) throw new Error(`demo_broken: "${words}" was not made ready`);
      await mouth.speak(wave, stop);
    },
    close: () => mouth.close(),
  };
}
