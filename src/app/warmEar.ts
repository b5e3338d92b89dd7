import { engineHost } from '../speech/bundled/ownEngine.ts';
import { earLoading } from './earLoading.svelte.ts';

/** Load the bundled ear while the aide still chooses, so that it is ready at the tap. */
export function warmEar(): Promise<void> {
  earLoading.share = engineHost.loaded;
  engineHost.onLoaded = (share) => (earLoading.share = share);
  return earLoading.of(engineHost.load());
}
