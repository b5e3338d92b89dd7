import { engineHost } from '../speech/bundled/ownEngine.ts';
import { earLoading } from './earLoading.svelte.ts';

/** An ear that has not loaded by then is not waited for, ms. */
const patience = 60_000;

/**
 * Load the bundled ear while the aide still chooses, so that it is ready at the tap.
 *
 * @returns when the network is free for others: the ear is loaded, can not be, or takes too long. Who
 * stopped it wants the network spared, so then it is not free until the ear is loaded after all.
 */
export function warmEar(): Promise<void> {
  earLoading.share = engineHost.loaded;
  engineHost.onLoaded = (share) => {
    earLoading.share = share;
    // A walk that began loads the ear, though it was stopped here.
    earLoading.resume();
  };
  const tooLong = new Promise<void>((go) => {
    setTimeout(() => {
      if (!earLoading.stopped) go();
    }, patience);
  });
  return Promise.race([earLoading.of(engineHost), tooLong]);
}
