import { chooseEar, installLocalEngine, type InstallOutcome } from '../speech/chooseEar.ts';
import type { RecognitionType } from '../speech/recognition.ts';

interface BrowserGlobals {
  readonly SpeechRecognition?: RecognitionType;
  readonly webkitSpeechRecognition?: RecognitionType;
}

const lang = 'en-US';

/** The browser's engine on this device, by whichever name it has. */
export function browserRecognition(): RecognitionType | undefined {
  const { SpeechRecognition, webkitSpeechRecognition } = globalThis as unknown as BrowserGlobals;
  return SpeechRecognition ?? webkitSpeechRecognition;
}

/**
 * Whether the browser has an engine that would stay on this device once it is installed.
 *
 * @returns installs it; null where there is nothing to install
 */
export async function engineOffer(
  browser: RecognitionType | undefined = browserRecognition(),
): Promise<(() => Promise<InstallOutcome>) | null> {
  if (browser === undefined) return null;
  const { reason } = await chooseEar('auto', { browser, hasMicrophone: true, lang });
  return reason === 'browser_could_install' ? () => installLocalEngine(browser, lang) : null;
}
