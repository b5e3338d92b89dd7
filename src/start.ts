import { mount } from 'svelte';
import { Desk } from './app/Desk.svelte.ts';
import { browserOffline } from './app/offline/browserOffline.ts';
import { speechFor, warmEar } from './app/speech.ts';
import { openStores } from './app/storage.ts';
import App from './screens/App.svelte';
import { plainCipher } from './storage/cipher.ts';

/**
 * Open the record, make the desk and put the screens into the page.
 *
 * @param ready - called when there is something to show in the target
 */
export async function start(target: HTMLElement, ready: () => void): Promise<void> {
  const stores = await openStores('gloveside', plainCipher, () => desk.rules());
  const desk = new Desk(stores, speechFor);
  await desk.open();
  const offline = browserOffline(() => desk.walking);
  ready();
  mount(App, { target, props: { desk, offline } });
  void offline.start(warmEar());
}
