import { canonicalMeaning } from '../conversation/judged.ts';
import type { Interpreter } from '../grammar/interpreter.ts';
import type { Expectation } from '../grammar/expectation.ts';
import { browserEngine } from '../speech/browser/browserEngine.ts';
import { bundledEngine } from '../speech/bundled/bundledEngine.ts';
import { OnDeviceRecognition } from '../speech/bundled/OnDeviceRecognition.ts';
import { chooseEar, type EarReason, type EarWish } from '../speech/chooseEar.ts';
import type { Ear, EarName } from '../speech/ear.ts';
import { EarWithSpare } from '../speech/EarWithSpare.ts';
import { RecognitionEar } from '../speech/recognitionEar.ts';
import { playTone } from '../speech/tones.ts';
import { TypedEar } from '../speech/typed/TypedEar.ts';
import type { Manner, Voice } from '../speech/voice.ts';
import { BundledVoice } from '../speech/voices/BundledVoice.ts';
import { captionsVoice } from '../speech/voices/captionsVoice.ts';
import { chooseVoice, voicesNamed } from '../speech/voices/chooseVoice.ts';
import { fliteSynthesis } from '../speech/voices/fliteSynthesis.ts';
import { playWave } from '../speech/voices/playWave.ts';
import { SystemVoice } from '../speech/voices/SystemVoice.ts';
import { waitToRead } from '../speech/voices/waitToRead.ts';
import { browserRecognition } from './engineOffer.ts';
import { deviceSettings } from './sound/deviceSettings.svelte.ts';

/** How this device hears and speaks, and why: the reason is shown in one sentence. */
export interface Speech {
  readonly ear: Ear;
  readonly reason: EarReason;
  readonly voice: Voice;
}

interface BrowserGlobals {
  readonly SpeechRecognitionPhrase?: new (phrase: string, boost: number) => unknown;
}

const lang = 'en-US';
const globals = globalThis as unknown as BrowserGlobals;
const browserType = browserRecognition();

/**
 * Choose ear and voice for this device and this unit's wish.
 *
 * @param interpreter - asked for once the ear listens
 */
export async function speechFor(wish: EarWish, interpreter: () => Interpreter): Promise<Speech> {
  const hasMicrophone = 'mediaDevices' in navigator;
  const { ear, reason } = await chooseEar(wish, { browser: browserType, hasMicrophone, lang });
  return { ear: earOf(ear, interpreter), reason, voice: endingInTone(quietAtWill(await voice())) };
}

function earOf(name: EarName, interpreter: () => Interpreter): Ear {
  const grammarOf = (expectation: Expectation) => interpreter().earGrammar(expectation);
  const bundled = () =>
    new RecognitionEar(bundledEngine(OnDeviceRecognition, grammarOf, endSilence));
  switch (name) {
    case 'typed':
      return new TypedEar();
    case 'bundled':
      return bundled();
    case 'browser':
      // Some builds say that their local engine is there and never start it.
      return new EarWithSpare(new RecognitionEar(browserEar(false, interpreter)), bundled);
    case 'remote':
      return new RecognitionEar(browserEar(true, interpreter));
  }
}

function browserEar(remote: boolean, interpreter: () => Interpreter) {
  if (browserType === undefined) throw new Error('engine_missing: chosen without an engine');
  const Phrase = globals.SpeechRecognitionPhrase;
  return browserEngine({
    type: browserType,
    remote,
    makePhrase: Phrase && ((phrase, boost) => new Phrase(phrase, boost)),
    endSilence,
    grammar: {
      phrasesOf: (expectation) => interpreter().earGrammar(expectation).phrases,
      meaningOf: (transcript, expectation) =>
        canonicalMeaning(interpreter().understand(transcript, expectation)),
    },
  });
}

let sound: AudioContext | undefined;
const manner = (): Manner => deviceSettings.current;
const endSilence = (): number => deviceSettings.endSilence;
const systemVoice =
  'speechSynthesis' in globalThis
    ? new SystemVoice({
        engine: speechSynthesis,
        utter: (text) => new SpeechSynthesisUtterance(text),
        manner,
      })
    : undefined;
const bundledVoice = new BundledVoice(
  fliteSynthesis(),
  playWave(() => (sound ??= new AudioContext())),
  manner,
);

function voice(): Promise<Voice> {
  const settled = systemVoice === undefined ? Promise.resolve() : voicesNamed(speechSynthesis);
  return chooseVoice(
    { system: systemVoice, bundled: bundledVoice, captions: captionsVoice },
    settled,
  );
}

/** A voice that the device may be set to keep quiet: the words then stand on the screen for a while. */
function quietAtWill(spoken: Voice): Voice {
  return {
    name: spoken.name,
    say: (text, signal) =>
      deviceSettings.current.quiet ? waitToRead(text, signal) : spoken.say(text, signal),
  };
}

/**
 * A voice after which a rising tone says that the ear opens: heard from three metres, with the eyes on
 * the container. Where the device plays no tones the light says it alone.
 */
function endingInTone(spoken: Voice): Voice {
  return {
    name: spoken.name,
    say: async (text, signal) => {
      await spoken.say(text, signal);
      const context = (sound ??= new AudioContext());
      if (signal.aborted || context.state !== 'running') return;
      const length = playTone(context, 'listening');
      await new Promise((sounded) => setTimeout(sounded, length));
    },
  };
}
