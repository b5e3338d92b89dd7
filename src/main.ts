import { earBegun } from './earFirst.ts';
import { mount, unmount } from 'svelte';
import Opening from './screens/shell/Opening.svelte';
import './screens/theme.css';

const target = document.getElementById('app');
if (target === null) throw new Error('no_mount: index.html lost its #app element');

let opening = mount(Opening, { target, props: { failed: false } });
await earBegun;
try {
  const { start } = await import('./start.ts');
  await start(target, () => void unmount(opening));
} catch (error) {
  void unmount(opening);
  opening = mount(Opening, { target, props: { failed: true } });
  throw error;
}
