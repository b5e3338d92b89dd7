import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { basename, extname, join, resolve } from 'node:path';

const dist = resolve(import.meta.dirname, '../dist');
const page = join(dist, 'index.html');
if (!existsSync(page)) throw new Error('no_build: run `npm run build` first');

// Vite links everything that the first script needs from the page itself.
const firstPaint = [
  ...readFileSync(page, 'utf8').matchAll(/(?:src|href)="\.?\/?([^"]+\.(?:js|css))"/g),
].map(([, link]) => join(dist, link));

const everything = readdirSync(dist, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && extname(entry.name) !== '.map')
  .map((entry) => join(entry.parentPath, entry.name));

// The bundled voice is fetched only where the system has none.
const voice = everything.filter((file) => /^flite.*\.wasm$/.test(basename(file)));
const later = everything.filter(
  (file) => file.startsWith(join(dist, 'assets')) && ![...firstPaint, ...voice].includes(file),
);

const gzip = true;

// An empty list fails its check: what is to be weighed has to be there.
export default [
  { name: 'script and style at first paint', path: firstPaint, limit: '120 kB', gzip },
  { name: 'ear, model and all that loads later', path: later, limit: '5 MB', gzip },
  ...(voice.length === 0 ? [] : [{ name: 'bundled voice, on demand', path: voice, gzip }]),
  { name: 'everything', path: everything, gzip },
];
