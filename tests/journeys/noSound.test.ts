import { readdir, readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { BedsidePage } from '../support/bedsidePage.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { filesOfBuild } from '../support/keptApp.ts';
import { soundInStorage } from '../support/soundScan.ts';
import { stepByVoice } from '../support/stepByVoice.ts';

/** Every way that a browser offers to make a file of a sound, or to send one. */
const recorders =
  /\b(MediaRecorder|MediaStreamTrackProcessor|AudioEncoder|WebCodecs|RTCPeerConnection|sendBeacon|captureStream)\b/;

const textsIn = async (folder: string, names: RegExp) => {
  const found = await readdir(folder, { recursive: true, withFileTypes: true });
  const files = found
    .filter((entry) => entry.isFile() && names.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name));
  return Promise.all(files.map(async (file) => ({ file, text: await readFile(file, 'utf8') })));
};

describe('When the source is read', () => {
  it('names no recorder, neither as written nor as built', async () => {
    const written = await textsIn(resolve(import.meta.dirname, '../../src'), /\.(ts|svelte)$/);
    const built = await textsIn(inject('dist'), /\.js$/);
    expect(written.length).toBeGreaterThan(100);
    expect(built.length).toBeGreaterThan(2);
    const naming = [...written, ...built].filter(({ text }) => recorders.test(text));
    expect(naming.map(({ file }) => file)).toEqual([]);
  });
});

describe('When an aide has spoken', () => {
  let browser: OpenBrowser;

  beforeEach(async () => {
    browser = await openBrowser();
    // The page is watched for what its source might reach by another name.
    await browser.page.addInitScript(() => {
      const made: string[] = [];
      Object.assign(window, { made });
      const watch = (on: Record<string, object>, name: string) => {
        on[name] = new Proxy(on[name] ?? {}, {
          apply: (real, self, given) => {
            made.push(name);
            return Reflect.apply(real as () => unknown, self, given) as object;
          },
          construct: (real, given) => {
            made.push(name);
            return Reflect.construct(real as new () => object, given) as object;
          },
        });
      };
      watch(window as never, 'MediaRecorder');
      watch(URL as never, 'createObjectURL');
    });
  });

  afterEach(() => browser.close());

  it('has left no sound in any storage, and made no recording', async () => {
    const built = await filesOfBuild(inject('dist'));
    const aide = await BedsidePage.open(browser, inject('baseUrl'));
    await aide.begin();
    await stepByVoice(aide);
    await aide.say('repeat that please');
    await aide.untilListening();

    expect((await aide.events()).length).toBeGreaterThan(0);
    expect(await soundInStorage(aide.page, built)).toEqual([]);
    expect(await aide.page.evaluate(() => (window as never as { made: string[] }).made)).toEqual(
      [],
    );
    expect(browser.leaving(inject('baseUrl'))).toEqual([]);
  });

  it('would be found out if it kept some', async () => {
    const { page } = browser;
    await page.goto(inject('baseUrl'));
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.evaluate(async () => {
      const opening = indexedDB.open('clips', 1);
      opening.onupgradeneeded = () => opening.result.createObjectStore('clips');
      await new Promise((done) => {
        opening.onsuccess = done;
      });
      const clips = opening.result.transaction('clips', 'readwrite').objectStore('clips');
      clips.put({ said: new Float32Array(480) }, 'samples');
      clips.put(new Blob([new Uint8Array(99)], { type: 'audio/webm' }), 'blob');
      clips.put(Uint8Array.of(0x1a, 0x45, 0xdf, 0xa3), 'webm');
      await new Promise((done) => {
        clips.transaction.oncomplete = done;
      });
      opening.result.close();
      localStorage.setItem('clip', 'UklGR'.repeat(500));
      await (await caches.open('clips')).put('/clip.wav', new Response('RIFF'));
      const folder = await navigator.storage.getDirectory();
      await folder.getFileHandle('clip.wav', { create: true });
      URL.createObjectURL(new Blob(['RIFF']));
      new MediaRecorder(new AudioContext().createMediaStreamDestination().stream);
    });
    expect(await page.evaluate(() => (window as never as { made: string[] }).made)).toEqual([
      'createObjectURL',
      'MediaRecorder',
    ]);
    const found = await soundInStorage(page, await filesOfBuild(inject('dist')));
    expect(found.sort()).toEqual([
      'clips/clips/0: blob',
      'clips/clips/1.said: samples',
      'clips/clips/2: binary',
      'clips: clip.wav',
      'localStorage/clip: long text',
      'private files: clip.wav',
    ]);
  });
});
