import { trustOwnScripts } from './app/offline/trustOwnScripts.ts';
import { engineHost } from './speech/bundled/ownEngine.ts';

/** A worker that has not begun by then is not waited for, ms. */
const patience = 400;

// The ear takes longest to open, in a worker of its own: it begins before the page's own programs run.
// Only where the app is kept on the device: over a network its files would hold up the page's.
trustOwnScripts();

/**
 * When the ear's worker has begun; null where it is not begun so early. A browser starts a worker from
 * the page's thread; a page that reads its own programs meanwhile holds it up for longer than it takes.
 */
export const earBegun: Promise<void> | null =
  'serviceWorker' in navigator && navigator.serviceWorker.controller
    ? new Promise((begun) => {
        setTimeout(begun, patience);
        engineHost.onLoaded = () => begun();
        // Opening it again says what went wrong.
        engineHost.load().catch(() => begun());
      })
    : null;
