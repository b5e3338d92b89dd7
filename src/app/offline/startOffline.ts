import { Offline } from './Offline.svelte.ts';
import { trustOwnScripts } from './trustOwnScripts.ts';

/**
 * Keep the app for the time without a network, and look after its new versions.
 *
 * Only the built app does so: the development server's files change under its feet.
 *
 * @param busy - whether a walk is on its way; asked whenever a new version wants to take over
 */
export function startOffline(busy: () => boolean): Offline {
  trustOwnScripts();
  const serves = import.meta.env.PROD && 'serviceWorker' in navigator;
  const { connection } = navigator as { connection?: { saveData?: boolean } };
  const offline = new Offline({
    container: serves ? navigator.serviceWorker : undefined,
    script: `${import.meta.env.BASE_URL}service-worker.js`,
    busy,
    reload: () => location.reload(),
    sparing: connection?.saveData === true,
  });
  void offline.start();
  return offline;
}
