import { earBegun } from './earFirst.ts';
import './screens/theme.css';
import './screens/shell/opening.css';

function part(selector: string): HTMLElement {
  const found = document.querySelector<HTMLElement>(selector);
  if (found === null) throw new Error(`no_mount: index.html lost its ${selector} element`);
  return found;
}

const target = part('#app');
const opening = part('.opening');

try {
  // The page's thread is left to the ear's worker until that runs.
  await earBegun;
  const { start } = await import('./start.ts');
  await start(target, () => {
    opening.remove();
  });
} catch (error) {
  // It may be gone by now, and something half made in its place.
  target.replaceChildren(opening);
  opening.removeAttribute('aria-busy');
  part('.opening .waiting').hidden = true;
  part('.opening .failed').hidden = false;
  part('.opening button').onclick = () => {
    location.reload();
  };
  throw error;
}
