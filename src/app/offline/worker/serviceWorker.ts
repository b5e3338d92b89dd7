import { securityHeaders } from '../../headers.ts';
import { keepFile, type KeepPorts } from '../keepFile.ts';
import { keyOf, pagePath, type KeptFile } from '../keptFile.ts';
import {
  ask,
  type AreYouBusy,
  type Mended,
  type TakeOver,
  type ToServiceWorker,
} from '../messages.ts';

/** The files of this build; the build writes them in. */
declare const BUILD_FILES: readonly KeptFile[];
declare const self: ServiceWorkerGlobalScope;

const files = BUILD_FILES;
const home = self.registration.scope;
const byPath = new Map(files.map((file) => [file.path, file]));
const page = byPath.get(pagePath);

/** A page that does not answer in this time counts as busy, ms. */
const ANSWER_LIMIT = 5_000;

const opened = (): Promise<Cache> => caches.open('gloveside-files');

async function sha256(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

const ports = async (): Promise<KeepPorts> => ({
  home,
  cache: await opened(),
  fetch: (request) => fetch(request),
  sha256,
});

/** A version that comes in while another cleans up would lose what it has just fetched. */
const alone = (run: () => Promise<void>): Promise<unknown> =>
  navigator.locks.request('gloveside-files', run);

/** All or nothing: a version with a file missing is not installed, and the one before stays. */
const install = (): Promise<unknown> =>
  alone(async () => {
    const tools = await ports();
    await Promise.all(files.filter(({ later }) => !later).map((file) => keepFile(file, tools)));
  });

/** One file at a time, as it runs beside a page at work. */
async function mend(sparing: boolean): Promise<Mended> {
  const tools = await ports();
  let kept = 0;
  for (const file of files.filter(({ later }) => !later || !sparing)) {
    await keepFile(file, tools).then(
      () => (kept += 1),
      () => undefined, // no network, or a newer version stands on the server: tried at the next start
    );
  }
  await alone(dropLeftovers);
  return { kept, of: files.length };
}

/** An older page that is still open may want its files; a newer version may be gathering its own. */
async function dropLeftovers(): Promise<void> {
  const { installing, waiting } = self.registration;
  const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  if (windows.length > 1 || installing || waiting) return;
  const needed = new Set(files.map((file) => keyOf(file, home)));
  const cache = await opened();
  for (const { url } of await cache.keys()) if (!needed.has(url)) await cache.delete(url);
}

async function takeOver(): Promise<TakeOver> {
  const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  const question: AreYouBusy = { type: 'busy?' };
  const answers = await Promise.all(
    windows.map((window) => ask<boolean>(window, question, ANSWER_LIMIT)),
  );
  if (answers.some((busy) => busy !== false)) return 'busy';
  await self.skipWaiting();
  return 'taken';
}

/** Pages and workers: what their headers say holds for all that runs in them. */
const ruling: ReadonlySet<string> = new Set([
  'document',
  'frame',
  'iframe',
  'worker',
  'sharedworker',
]);

/** The headers are today's, whichever server once sent the file. */
function dressed(kept: Response): Response {
  const headers = new Headers(kept.headers);
  for (const [name, value] of Object.entries(securityHeaders)) headers.set(name, value);
  return new Response(kept.body, { headers });
}

async function answer(request: Request, file: KeptFile | undefined): Promise<Response> {
  const cache = await opened();
  const kept = file
    ? await cache.match(keyOf(file, home))
    : // A page of the version before asks for a file of its own.
      await cache.match(request, { ignoreSearch: true });
  if (kept === undefined) return fetch(request);
  // Given as it is, a script comes with its compiled form, which the browser keeps beside it.
  return ruling.has(request.destination) ? dressed(kept) : kept;
}

self.addEventListener('install', (event) => event.waitUntil(install()));

// The first version serves the page that brought it; later ones wait until they may take over.
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || !request.url.startsWith(home)) return;
  const path = new URL(request.url).pathname.slice(new URL(home).pathname.length);
  const file = byPath.get(path) ?? (request.mode === 'navigate' ? page : undefined);
  event.respondWith(answer(request, file));
});

self.addEventListener('message', (event) => {
  const message = event.data as ToServiceWorker;
  const [port] = event.ports;
  const done = message.type === 'mend' ? mend(message.sparing) : takeOver();
  event.waitUntil(done.then((result) => port?.postMessage(result)));
});
