import type { Voice } from '../voice.ts';
import type { SystemVoice } from './SystemVoice.ts';

export interface VoiceChoices {
  /** Absent where the browser has no speech synthesis. */
  readonly system: SystemVoice | undefined;
  /** Absent where the unit does not want the download. */
  readonly bundled: Voice | undefined;
  readonly captions: Voice;
}

/**
 * The voice for this device: the system's own where one speaks on the device, else the bundled one,
 * else captions alone.
 *
 * @param settled - resolves when the browser had time to name its voices (they come late in Chrome)
 */
export async function chooseVoice(choices: VoiceChoices, settled: Promise<void>): Promise<Voice> {
  const { system, bundled, captions } = choices;
  if (system !== undefined && !system.ready) await settled;
  if (system?.ready === true) return system;
  return bundled ?? captions;
}

/** Resolves when voices are named or after `limit` ms. */
export function voicesNamed(
  engine: Pick<SpeechSynthesis, 'getVoices' | 'addEventListener' | 'removeEventListener'>,
  limit = 1_500,
): Promise<void> {
  if (engine.getVoices().length > 0) return Promise.resolve();
  return new Promise((resolve) => {
    const done = (): void => {
      clearTimeout(timer);
      engine.removeEventListener('voiceschanged', done);
      resolve();
    };
    const timer = setTimeout(done, limit);
    engine.addEventListener('voiceschanged', done);
  });
}
