import type { Manner, Voice } from '../voice.ts';
import { sentencesOf } from './sentences.ts';

/** The browser's voice, and how an utterance for it is made. */
export interface Synthesis {
  readonly engine: Pick<
    SpeechSynthesis,
    'speak' | 'cancel' | 'getVoices' | 'addEventListener' | 'removeEventListener'
  >;
  readonly utter: (text: string) => SpeechSynthesisUtterance;
  /** Asked before each utterance; left out where the voice speaks its own way. */
  readonly manner?: () => Manner;
}

/** Slow speech takes about 90 ms a character; an engine that needs longer has lost its `end`. */
const patience = (text: string, rate: number): number => 4_000 + (120 * text.length) / rate;

/** The nearest voice that speaks on this device, or undefined when there is none. */
export function localVoice(
  voices: readonly SpeechSynthesisVoice[],
  lang: string,
): SpeechSynthesisVoice | undefined {
  const language = lang.split('-')[0]?.toLowerCase() ?? '';
  const tagOf = (voice: SpeechSynthesisVoice): string => voice.lang.replace('_', '-').toLowerCase();
  const local = voices.filter(
    (voice) => voice.localService && tagOf(voice).split('-')[0] === language,
  );
  const exact = local.filter((voice) => tagOf(voice) === lang.toLowerCase());
  const best = exact.length > 0 ? exact : local;
  return best.find((voice) => voice.default) ?? best[0];
}

/** Speaks with the system's own voice; never with one that sends the text away. */
export class SystemVoice implements Voice {
  readonly name = 'system';
  readonly #synthesis: Synthesis;
  readonly #lang: string;
  #saying: Promise<void> = Promise.resolve();

  constructor(synthesis: Synthesis, lang = 'en-US') {
    this.#synthesis = synthesis;
    this.#lang = lang;
  }

  /** True when a voice of this device is there; some browsers name theirs only after a while. */
  get ready(): boolean {
    return localVoice(this.#synthesis.engine.getVoices(), this.#lang) !== undefined;
  }

  async say(text: string, signal: AbortSignal): Promise<void> {
    const before = this.#saying;
    const now = before
      .catch(() => undefined)
      .then(async () => {
        for (const sentence of sentencesOf(text)) await this.#utter(sentence, signal);
      });
    this.#saying = now;
    return now;
  }

  #utter(text: string, signal: AbortSignal): Promise<void> {
    const { engine, utter } = this.#synthesis;
    return new Promise((resolve, reject) => {
      if (signal.aborted) {
        reject(signal.reason as Error);
        return;
      }
      const voice = localVoice(engine.getVoices(), this.#lang);
      if (voice === undefined) {
        reject(new Error('no_local_voice: the system has none that speaks on this device'));
        return;
      }
      const utterance = utter(text);
      utterance.voice = voice;
      utterance.lang = voice.lang;
      const { volume, rate } = this.#synthesis.manner?.() ?? { volume: 1, rate: 1 };
      utterance.volume = volume;
      utterance.rate = rate;
      let started = false;
      const over = (settle: () => void): void => {
        clearTimeout(watchdog);
        signal.removeEventListener('abort', aborted);
        utterance.onstart = utterance.onend = utterance.onerror = null;
        settle();
      };
      const aborted = (): void => {
        over(() => {
          engine.cancel();
          reject(signal.reason as Error);
        });
      };
      const watchdog = setTimeout(
        () => {
          over(() => {
            engine.cancel();
            // The words were most likely heard; it is the end that was never told.
            if (started) resolve();
            else reject(new Error('voice_silent: the system voice did not start'));
          });
        },
        patience(text, rate),
      );
      signal.addEventListener('abort', aborted, { once: true });
      utterance.onstart = () => {
        started = true;
      };
      utterance.onend = () => {
        over(resolve);
      };
      utterance.onerror = ({ error }) => {
        over(() => {
          reject(new Error(`voice_failed: ${error}`));
        });
      };
      // A queue that hangs from before would swallow this one as well.
      engine.cancel();
      engine.speak(utterance);
    });
  }
}
