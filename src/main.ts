import { earBegun } from './earFirst.ts';
import { mount, unmount } from 'svelte';
import Opening from './screens/shell/Opening.svelte';
import './screens/theme.css';

const target = document.getElementById('app');
if (target === null) throw new Error('no_mount: index.html lost its #app element');

const desk = () => import('./start.ts');
// On its way while this page puts up something to look at, unless the ear goes first.
const arriving = earBegun === null ? desk() : earBegun.then(desk);
let opening = mount(Opening, { target, props: { failed: false } });
try {
  const { start } = await arriving;
  await start(target, () => void unmount(opening));
} catch (error) {
  void unmount(opening);
  opening = mount(Opening, { target, props: { failed: true } });
  throw error;
}
