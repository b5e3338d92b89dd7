import type { Page } from 'playwright-core';
import type { LedgerEvent } from '../../src/charting/events.ts';
import type { OpenBrowser } from './browser.ts';
import { giveVoice, type FakeVoice, type FakeVoiceOptions } from './fakeVoice.ts';
import type { FliteVoice } from '../../src/speech/voices/flite.ts';
import { say } from './flite.ts';
import { recordOnDisk } from './recordOnDisk.ts';
import { plugMicrophone, type Microphone, type MicrophoneOptions } from './microphone.ts';

declare global {
  interface Window {
    /** Pointer and key events since the page was opened, kept by the journeys. */
    touches: string[];
  }
}

export interface BedsideOptions {
  readonly voice?: FakeVoiceOptions;
  readonly microphone?: MicrophoneOptions;
}

/** The bedside as an aide meets it: a page, a voice that speaks, a mouth before the microphone. */
export class BedsidePage {
  readonly page: Page;
  readonly voice: FakeVoice;
  readonly #microphone: Microphone;
  readonly #url: string;

  private constructor(page: Page, voice: FakeVoice, microphone: Microphone, url: string) {
    this.page = page;
    this.voice = voice;
    this.#microphone = microphone;
    this.#url = url;
  }

  static async open(
    { page }: OpenBrowser,
    url: string,
    options: BedsideOptions = {},
  ): Promise<BedsidePage> {
    const microphone = await plugMicrophone(page, options.microphone);
    const voice = await giveVoice(page, options.voice);
    await page.addInitScript(() => {
      window.touches = [];
      for (const type of ['pointerdown', 'keydown', 'touchstart', 'click']) {
        addEventListener(type, () => window.touches.push(type), { capture: true });
      }
    });
    const bedside = new BedsidePage(page, voice, microphone, url);
    await bedside.load();
    return bedside;
  }

  async load(): Promise<void> {
    await this.page.goto(this.#url);
    await this.page.getByRole('heading', { level: 1 }).waitFor();
  }

  /** Two taps and the opening one. */
  async begin(bed = 'Bed 4', procedure = 'Empty a urinary drainage bag'): Promise<void> {
    await this.page.getByRole('radio', { name: bed, exact: true }).check({ force: true });
    await this.page.getByRole('radio', { name: procedure }).check({ force: true });
    await this.page.getByRole('button', { name: 'Open the ear and begin' }).click();
  }

  /** Say something once the assistant listens. */
  async say(text: string, voice: FliteVoice = 'slt'): Promise<void> {
    await this.untilListening();
    await this.#microphone.speak(say(text, voice));
  }

  async untilListening(): Promise<void> {
    await this.page.locator('.lamp.listening, .lamp.held').waitFor({ timeout: 60_000 });
  }

  /** Type something in place of saying it. */
  async type(text: string): Promise<void> {
    await this.untilListening();
    await this.page.getByLabel('Type what you would say').fill(text);
    await this.page.getByRole('button', { name: 'Say it' }).click();
  }

  async untilStep(call: string | RegExp): Promise<void> {
    await this.page.getByRole('heading', { level: 1, name: call }).waitFor({ timeout: 30_000 });
  }

  step(): Promise<string> {
    return this.page.getByRole('heading', { level: 1 }).innerText();
  }

  /** The person allows the microphone after all. */
  async allowMicrophone(): Promise<void> {
    await this.page.context().grantPermissions(['microphone']);
    await this.#microphone.refuse(null);
  }

  touches(): Promise<string[]> {
    return this.page.evaluate(() => window.touches);
  }

  forgetTouches(): Promise<void> {
    return this.page.evaluate(() => {
      window.touches = [];
    });
  }

  /** The record of this device as it stands on its disk, unsealed. */
  events(): Promise<LedgerEvent[]> {
    return recordOnDisk(this.page, 'gloveside');
  }
}
