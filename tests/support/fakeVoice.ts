import type { Page } from 'playwright-core';

export interface FakeVoiceOptions {
  /** What the system has: a local voice, only a remote one, or none at all. */
  readonly voices?: 'local' | 'remote' | 'none';
  /** How long a character takes to say, ms. */
  readonly msPerCharacter?: number;
  /** The voice starts and its end is never told (Chromium 679437). */
  readonly neverEnds?: boolean;
}

/** One text that the page gave to the system's voice. */
export interface Spoken {
  readonly text: string;
  readonly lang: string;
  /** The name of the voice, or null for the system's default. */
  readonly voice: string | null;
  /** `ended` when it was said to the end, `cancelled` when it was cut off. */
  readonly state: 'speaking' | 'ended' | 'cancelled';
}

/** The voice's record, over every reload of the page. */
export interface FakeVoice {
  spoken(): readonly Spoken[];
  /**
   * Resolves when a text that fits was said to the end, and moves on past it, so that calls one
   * after another follow the order of what was said.
   *
   * @throws when nothing fits within the time, naming what was said
   */
  untilSaid(pattern: RegExp, timeoutMs?: number): Promise<Spoken>;
}

type Told =
  | {
      readonly id: string;
      readonly text: string;
      readonly lang: string;
      readonly voice: string | null;
    }
  | { readonly id: string; readonly state: 'ended' | 'cancelled' };

const records = new WeakMap<Page, FakeVoice>();

/**
 * Give the page a system voice that says nothing aloud, is quick and keeps a record.
 *
 * Headless Chromium has no voice of its own. Call it before the page is opened, and before
 * `page.clock` is installed if the voice is to keep its own time.
 */
export async function giveVoice(page: Page, options: FakeVoiceOptions = {}): Promise<FakeVoice> {
  const said = new Map<string, Spoken>();
  const waiting = new Set<() => void>();
  let passed = 0;

  await page.exposeFunction('glovesideVoiceTells', (told: Told) => {
    if ('text' in told) {
      const { text, lang, voice } = told;
      said.set(told.id, { text, lang, voice, state: 'speaking' });
    } else {
      const before = said.get(told.id);
      if (before !== undefined) said.set(told.id, { ...before, state: told.state });
    }
    for (const look of [...waiting]) look();
  });
  await page.addInitScript(installVoice, {
    voices: options.voices ?? 'local',
    msPerCharacter: options.msPerCharacter ?? 1,
    neverEnds: options.neverEnds ?? false,
  });

  const record: FakeVoice = {
    spoken: () => [...said.values()],
    untilSaid: (pattern, timeoutMs = 15_000) =>
      new Promise((done, fail) => {
        const stop = () => {
          clearTimeout(timer);
          waiting.delete(look);
        };
        const look = () => {
          const all = [...said.values()];
          const index = all.findIndex(
            ({ text, state }, at) => at >= passed && state === 'ended' && pattern.test(text),
          );
          const found = all[index];
          if (found === undefined) return;
          passed = index + 1;
          stop();
          done(found);
        };
        const timer = setTimeout(() => {
          stop();
          const heard = [...said.values()].map(({ text, state }) => `  ${state}: ${text}`);
          fail(
            new Error(
              `not_said: ${String(pattern)} in ${timeoutMs} ms. Said:\n${heard.join('\n')}`,
            ),
          );
        }, timeoutMs);
        waiting.add(look);
        look();
      }),
  };
  records.set(page, record);
  return record;
}

/** Everything that the page's voice was given so far, oldest first. */
export function spoken(page: Page): readonly Spoken[] {
  const record = records.get(page);
  if (record === undefined) throw new Error('no_voice: giveVoice(page) was not called');
  return record.spoken();
}

/** Runs inside the page, before its own scripts; it can use nothing from outside itself. */
function installVoice(options: Required<FakeVoiceOptions>): void {
  const tell = (told: Told) => {
    const { glovesideVoiceTells } = window as unknown as {
      glovesideVoiceTells: (told: Told) => Promise<void>;
    };
    void glovesideVoiceTells(told);
  };
  const later = window.setTimeout.bind(window);
  const drop = window.clearTimeout.bind(window);

  class Utterance extends EventTarget {
    text: string;
    lang = '';
    voice: SpeechSynthesisVoice | null = null;
    rate = 1;
    pitch = 1;
    volume = 1;
    onstart: ((event: Event) => void) | null = null;
    onend: ((event: Event) => void) | null = null;
    onerror: ((event: Event) => void) | null = null;
    onboundary: ((event: Event) => void) | null = null;
    constructor(text = '') {
      super();
      this.text = text;
    }
  }

  const fire = (utterance: Utterance, type: 'start' | 'end' | 'error', error?: string) => {
    const event = Object.assign(new Event(type), {
      utterance,
      charIndex: 0,
      elapsedTime: 0,
      error,
    });
    utterance[`on${type}`]?.(event);
    utterance.dispatchEvent(event);
  };

  const local = options.voices === 'local';
  const voice = {
    voiceURI: 'Quick Voice',
    name: 'Quick Voice',
    lang: 'en-US',
    localService: local,
    default: true,
  };
  const voices = options.voices === 'none' ? [] : [voice];

  const queue: { utterance: Utterance; id: string }[] = [];
  let timer: number | undefined;

  const next = () => {
    const current = queue[0];
    if (current === undefined) return;
    const { utterance, id } = current;
    if (voices.length === 0) {
      queue.shift();
      fire(utterance, 'error', 'synthesis-failed');
      next();
      return;
    }
    tell({
      id,
      text: utterance.text,
      lang: utterance.lang,
      voice: utterance.voice?.name ?? null,
    });
    fire(utterance, 'start');
    if (options.neverEnds) return;
    timer = later(() => {
      queue.shift();
      tell({ id, state: 'ended' });
      fire(utterance, 'end');
      next();
    }, utterance.text.length * options.msPerCharacter);
  };

  const synthesis = Object.assign(new EventTarget(), {
    onvoiceschanged: null,
    paused: false,
    getVoices: () => voices,
    pause: () => undefined,
    resume: () => undefined,
    speak(utterance: Utterance) {
      queue.push({ utterance, id: crypto.randomUUID() });
      // The real one never starts inside the call.
      if (queue.length === 1) timer = later(next, 0);
    },
    cancel() {
      drop(timer);
      for (const { utterance, id } of queue.splice(0)) {
        tell({ id, state: 'cancelled' });
        later(() => {
          fire(utterance, 'error', 'canceled');
        }, 0);
      }
    },
  });
  Object.defineProperties(synthesis, {
    speaking: { get: () => queue.length > 0 },
    pending: { get: () => queue.length > 1 },
  });
  Object.defineProperty(window, 'speechSynthesis', { configurable: true, value: synthesis });
  Object.defineProperty(window, 'SpeechSynthesisUtterance', {
    configurable: true,
    value: Utterance,
  });
}
