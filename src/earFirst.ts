import { trustOwnScripts } from './app/offline/trustOwnScripts.ts';
import { engineHost } from './speech/bundled/ownEngine.ts';

// The ear takes longest to open, in a worker of its own: it begins before the page's own programs run.
// Only where the app is kept on the device: over a network its files would hold up the page's.
trustOwnScripts();
if ('serviceWorker' in navigator && navigator.serviceWorker.controller) {
  // Opening it again says what went wrong.
  engineHost.load().catch(() => undefined);
}
