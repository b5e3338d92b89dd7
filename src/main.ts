import { mount } from 'svelte';
import { Desk } from './app/Desk.svelte.ts';
import { browserOffline } from './app/offline/browserOffline.ts';
import { trustOwnScripts } from './app/offline/trustOwnScripts.ts';
import { speechFor, warmEar } from './app/speech.ts';
import { openStores } from './app/storage.ts';
import App from './screens/App.svelte';
import { plainCipher } from './storage/cipher.ts';

const target = document.getElementById('app');
if (target === null) throw new Error('no_mount: index.html lost its #app element');

trustOwnScripts();
const stores = await openStores('gloveside', plainCipher, () => desk.rules());
const desk = new Desk(stores, speechFor);
await desk.open();
const offline = browserOffline(() => desk.walk !== null);
mount(App, { target, props: { desk, offline } });
void offline.start(warmEar());
