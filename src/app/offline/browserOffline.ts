import { Offline } from './Offline.svelte.ts';

/**
 * The app's keeping of itself in this browser; `start` begins it.
 *
 * Only the built app does so: the development server's files change under its feet.
 *
 * @param busy - whether a walk is on its way; asked whenever a new version wants to take over
 */
export function browserOffline(busy: () => boolean): Offline {
  const serves = import.meta.env.PROD && 'serviceWorker' in navigator;
  const { connection } = navigator as { connection?: { saveData?: boolean } };
  return new Offline({
    container: serves ? navigator.serviceWorker : undefined,
    script: `${import.meta.env.BASE_URL}service-worker.js`,
    busy,
    reload: () => location.reload(),
    sparing: connection?.saveData === true,
  });
}
