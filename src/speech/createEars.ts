import type { Expectation } from '../grammar/expectation.ts';
import type { Interpreter, Understood } from '../grammar/interpreter.ts';
import { browserEngine, type BrowserGrammar } from './browser/browserEngine.ts';
import { bundledEngine } from './bundled/bundledEngine.ts';
import { engineHost, OnDeviceRecognition } from './bundled/OnDeviceRecognition.ts';
import type { Ear } from './ear.ts';
import type { RecognitionType } from './recognition.ts';
import { RecognitionEar } from './recognitionEar.ts';

type SpeechWindow = Window & {
  readonly SpeechRecognition?: RecognitionType;
  readonly webkitSpeechRecognition?: RecognitionType;
  readonly SpeechRecognitionPhrase?: new (phrase: string, boost: number) => unknown;
};

/** The browser's own engine, prefixed or not; undefined where it has none. */
export function browserRecognition(window: SpeechWindow): RecognitionType | undefined {
  return window.SpeechRecognition ?? window.webkitSpeechRecognition;
}

/** The ear inside this app: nothing leaves the device. */
export function createBundledEar(interpreter: Interpreter): Ear {
  const grammarOf = (expectation: Expectation) => interpreter.earGrammar(expectation);
  return new RecognitionEar(bundledEngine(OnDeviceRecognition, grammarOf));
}

/** Load the bundled ear's model ahead of the first walk. @throws when it can not be loaded */
export function prepareBundledEar(): Promise<void> {
  return engineHost.load();
}

/**
 * The browser's ear.
 *
 * @param remote - true only where the unit allows sound to leave the device, by name
 * @returns undefined in a browser that has no engine
 */
export function createBrowserEar(
  interpreter: Interpreter,
  window: SpeechWindow,
  remote: boolean,
): Ear | undefined {
  const type = browserRecognition(window);
  if (type === undefined) return undefined;
  const Phrase = window.SpeechRecognitionPhrase;
  const makePhrase =
    Phrase === undefined
      ? undefined
      : (phrase: string, boost: number): unknown => new Phrase(phrase, boost);
  return new RecognitionEar(
    browserEngine({ type, grammar: browserGrammar(interpreter), remote, makePhrase }),
  );
}

function browserGrammar(interpreter: Interpreter): BrowserGrammar {
  return {
    phrasesOf: (expectation) => interpreter.earGrammar(expectation).phrases,
    meaningOf: (transcript, expectation) =>
      meaningOf(interpreter.understand(transcript, expectation)),
  };
}

/** A text to compare two understandings by; null for talk. */
export function meaningOf(understood: Understood): string | null {
  switch (understood.kind) {
    case 'talk':
      return null;
    case 'command':
      return understood.command;
    case 'volume': {
      const { mL, ambiguous } = understood.reading;
      return mL === null ? ambiguous.join(' or ') : String(mL);
    }
    case 'look':
    case 'initials':
    case 'choice':
    case 'alert':
      return JSON.stringify(understood.value) ?? null;
  }
}
