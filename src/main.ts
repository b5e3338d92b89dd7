import { mount } from 'svelte';
import App from './screens/App.svelte';

const target = document.getElementById('app');
if (target === null) throw new Error('no_mount: index.html lost its #app element');

mount(App, { target });
