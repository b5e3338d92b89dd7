import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest';
import { writeWave } from '../../src/speech/wave.ts';
import { openBrowser, type OpenBrowser } from '../support/browser.ts';
import { giveVoice, spoken } from '../support/fakeVoice.ts';
import { CLIP_RATE, plugMicrophone } from '../support/microphone.ts';

/** What the other journeys stand on: a false friend here would make them all pass for nothing. */
const home = inject('baseUrl');
const clip = tone(440, 0.6);
let browser: OpenBrowser;

function tone(hertz: number, seconds: number): Float32Array {
  const step = (2 * Math.PI * hertz) / CLIP_RATE;
  return Float32Array.from({ length: seconds * CLIP_RATE }, (_, at) => 0.5 * Math.sin(at * step));
}

/** Open the page's microphone; keep the loudest moment and the last pitch of what comes in. */
async function listen(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const stream = await navigator.mediaDevices.getUserMedia({ audio: true });
    const context = new AudioContext();
    const analyser = new AnalyserNode(context, { fftSize: 4096, smoothingTimeConstant: 0 });
    context.createMediaStreamSource(stream).connect(analyser);
    const heard = { peak: 0, hertz: 0 };
    Object.assign(window, { heard });
    const wave = new Float32Array(analyser.fftSize);
    const bins = new Float32Array(analyser.frequencyBinCount);
    setInterval(() => {
      analyser.getFloatTimeDomainData(wave);
      const peak = Math.max(...wave.map(Math.abs));
      heard.peak = Math.max(heard.peak, peak);
      if (peak < 0.1) return;
      analyser.getFloatFrequencyData(bins);
      const loudest = bins.indexOf(Math.max(...bins));
      heard.hertz = (loudest * context.sampleRate) / analyser.fftSize;
    }, 20);
  });
}

interface Heard {
  peak: number;
  hertz: number;
}

const heard = (page: Page): Promise<Heard> =>
  page.evaluate(() => (window as unknown as { heard: Heard }).heard);

describe('When a test speaks into the microphone', () => {
  beforeEach(async () => {
    browser = await openBrowser();
  });

  afterEach(() => browser.close());

  it('is heard by the page, at its pitch and loudness', async () => {
    const { page } = browser;
    const microphone = await plugMicrophone(page);
    await page.goto(home);
    const { state } = await page.evaluate(async () => {
      const permission = await navigator.permissions.query({ name: 'microphone' });
      return { state: permission.state };
    });
    expect(state).toBe('granted');
    await listen(page);
    await microphone.untilOpen();
    expect((await heard(page)).peak).toBeLessThan(0.01);
    await microphone.speak(clip);
    const { peak, hertz } = await heard(page);
    expect(peak).toBeGreaterThan(0.4);
    expect(peak).toBeLessThan(0.6);
    expect(Math.abs(hertz - 440)).toBeLessThan(20);
  });

  it('is not heard by a page that is shut, nor after the plug is pulled', async () => {
    const { page } = browser;
    const microphone = await plugMicrophone(page);
    await page.goto(home);
    await microphone.speak(clip);
    await listen(page);
    expect((await heard(page)).peak).toBeLessThan(0.01);
    await microphone.unplug();
    expect(await microphone.openTracks()).toBe(0);
    await microphone.speak(clip);
    expect((await heard(page)).peak).toBeLessThan(0.01);
  });

  it('refuses as a browser does', async () => {
    const { page } = browser;
    const microphone = await plugMicrophone(page, { fault: 'NotAllowedError' });
    await page.goto(home);
    const open = () =>
      page.evaluate(() =>
        navigator.mediaDevices.getUserMedia({ audio: true }).then(
          () => 'open',
          (error: unknown) => (error as DOMException).name,
        ),
      );
    expect(await open()).toBe('NotAllowedError');
    await microphone.refuse(null);
    expect(await open()).toBe('open');
  });
});

describe("When Chromium's own fake microphone plays a file", () => {
  let folder: string;

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'gloveside-wav-'));
  });

  afterEach(async () => {
    await browser.close();
    await rm(folder, { recursive: true });
  });

  it('is heard by the page', async () => {
    const file = join(folder, 'tone.wav');
    await writeFile(file, writeWave({ samples: tone(440, 3), rate: CLIP_RATE }));
    browser = await openBrowser({ microphoneWav: file, permissions: ['microphone'] });
    const { page } = browser;
    await page.goto(home);
    await listen(page);
    await page.waitForFunction(() => {
      const { peak, hertz } = (window as unknown as { heard: Heard }).heard;
      return peak > 0.1 && Math.abs(hertz - 440) < 20;
    });
  });

  it('names a file that is missing', async () => {
    await expect(openBrowser({ microphoneWav: join(folder, 'none.wav') })).rejects.toThrow(
      'no_wav',
    );
  });
});

describe('When the page speaks', () => {
  beforeEach(async () => {
    browser = await openBrowser();
  });

  afterEach(() => browser.close());

  const say = (page: Page, text: string) =>
    page.evaluate(
      (words) =>
        new Promise<string>((done) => {
          const utterance = new SpeechSynthesisUtterance(words);
          utterance.voice = speechSynthesis.getVoices()[0] ?? null;
          utterance.onend = () => {
            done('end');
          };
          utterance.onerror = (event) => {
            done(event.error);
          };
          speechSynthesis.speak(utterance);
        }),
      text,
    );

  it('has all it said on record, over a reload', async () => {
    const { page } = browser;
    const voice = await giveVoice(page);
    await page.goto(home);
    expect(await say(page, 'first')).toBe('end');
    await page.reload();
    expect(await say(page, 'second')).toBe('end');
    expect((await voice.untilSaid(/^second$/)).voice).toBe('Quick Voice');
    expect(spoken(page).map(({ text, state }) => [text, state])).toEqual([
      ['first', 'ended'],
      ['second', 'ended'],
    ]);
    await expect(voice.untilSaid(/first/, 1)).rejects.toThrow('not_said');
  });

  it('is cut off by a cancel', async () => {
    const { page } = browser;
    await giveVoice(page, { neverEnds: true });
    await page.goto(home);
    const outcome = say(page, 'a long story');
    await page.waitForFunction(() => speechSynthesis.speaking);
    await expect.poll(() => spoken(page).length).toBe(1);
    await page.evaluate(() => {
      speechSynthesis.cancel();
    });
    expect(await outcome).toBe('canceled');
    await expect.poll(() => spoken(page)[0]?.state).toBe('cancelled');
  });

  it('fails where there is no voice', async () => {
    const { page } = browser;
    await giveVoice(page, { voices: 'none' });
    await page.goto(home);
    expect(await say(page, 'hello')).toBe('synthesis-failed');
  });
});

describe('When the browser is killed', () => {
  let profile: string;

  beforeEach(async () => {
    profile = await mkdtemp(join(tmpdir(), 'gloveside-kept-'));
  });

  afterEach(async () => {
    await browser.close();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  });

  it('is opened again with what was on its disk', async () => {
    browser = await openBrowser({ profile });
    await browser.page.goto(home);
    await browser.page.evaluate(
      () =>
        new Promise((done, fail) => {
          const opening = indexedDB.open('bench', 1);
          opening.onupgradeneeded = () => opening.result.createObjectStore('kept');
          opening.onsuccess = () => {
            const change = opening.result.transaction('kept', 'readwrite', {
              durability: 'strict',
            });
            change.objectStore('kept').put(850, 'reading');
            change.oncomplete = done;
            change.onerror = fail;
          };
        }),
    );
    await browser.kill();
    browser = await openBrowser({ profile });
    await browser.page.goto(home);
    const kept = await browser.page.evaluate(
      () =>
        new Promise((done) => {
          const opening = indexedDB.open('bench', 1);
          opening.onsuccess = () => {
            const reading = opening.result.transaction('kept').objectStore('kept').get('reading');
            reading.onsuccess = () => {
              done(reading.result);
            };
          };
        }),
    );
    expect(kept).toBe(850);
  });
});

describe('When the page reaches out', () => {
  beforeEach(async () => {
    browser = await openBrowser();
  });

  afterEach(() => browser.close());

  it('is caught, by page, worker and socket', async () => {
    const { page } = browser;
    await page.route('**/blank.html', (route) =>
      route.fulfill({ contentType: 'text/html', body: '<h1>Blank</h1>' }),
    );
    await page.goto(new URL('blank.html', home).href);
    await page.evaluate(async () => {
      await fetch('https://elsewhere.example/page').catch(() => undefined);
      new WebSocket('wss://elsewhere.example/socket');
      const script = `fetch('https://elsewhere.example/worker').catch(() => 0).then(() => postMessage(1))`;
      const worker = new Worker(URL.createObjectURL(new Blob([script])));
      await new Promise((done) => {
        worker.onmessage = done;
      });
    });
    await expect
      .poll(() =>
        browser
          .leaving(home)
          .map(({ url }) => url)
          .sort(),
      )
      .toEqual([
        'https://elsewhere.example/page',
        'https://elsewhere.example/worker',
        'wss://elsewhere.example/socket',
      ]);
  });
});
