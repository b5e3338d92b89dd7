import type { EarFault } from '../ear.ts';
import type {
  Availability,
  Recognition,
  RecognitionErrorCode,
  RecognitionOptions,
  RecognitionResult,
  RecognitionType,
} from '../recognition.ts';
import type { EngineHost } from './engineHost.ts';
import { GrammarList } from './grammarList.ts';
import type { FromWorker } from './messages.ts';
import { MicrophoneError, type OpenMicrophone, type OpenMicrophoneFunction } from './microphone.ts';
import {
  BundledErrorEvent,
  BundledResultEvent,
  LevelEvent,
  PoorEvent,
  resultOf,
} from './recognitionEvents.ts';

/** 0.6 s lets people breathe between two digits. */
const usualEndSilence = 600;

/** After this much silence a session for one utterance ends with `no-speech`, ms. */
export const NO_SPEECH_LIMIT = 8_000;

const handled = [
  'start',
  'audiostart',
  'soundstart',
  'speechstart',
  'speechend',
  'soundend',
  'audioend',
  'result',
  'nomatch',
  'error',
  'end',
] as const;
type Handled = (typeof handled)[number];
type Handler = ((event: Event) => void) | null;

export interface OnDeviceParts {
  readonly engine: EngineHost;
  readonly openMicrophone: OpenMicrophoneFunction;
}

/** The W3C interface over the bundled engine, with what that engine adds. */
export interface OnDevice extends Recognition, Record<`on${Handled}`, Handler> {
  grammars: GrammarList;
  /** Quiet that ends an utterance, ms; taken when it starts. */
  endSilence: number;
}
export interface OnDeviceType extends RecognitionType {
  new (): OnDevice;
  available(options: RecognitionOptions): Promise<Availability>;
  install(options: RecognitionOptions): Promise<boolean>;
}

/** The model speaks US English, and takes a bare `en` as such. */
const speaks = (tag: string): boolean => /^en(-us)?$/i.test(tag);

/** Standard codes for our faults; the fault itself goes along as the event's message. */
const codeOf = (fault: EarFault): RecognitionErrorCode =>
  fault === 'microphone_denied' ? 'not-allowed' : 'audio-capture';

/**
 * Make the class `OnDeviceRecognition` over one engine: the `SpeechRecognition` interface of Web
 * Speech, on the device and nowhere else.
 *
 * @see https://webaudio.github.io/web-speech-api/#speechreco-section
 */
export function bundledRecognition({ engine, openMicrophone }: OnDeviceParts): OnDeviceType {
  return class OnDeviceRecognition extends EventTarget implements OnDevice {
    static async available({ langs }: RecognitionOptions): Promise<Availability> {
      await Promise.resolve();
      if (langs.length === 0 || !langs.every(speaks)) return 'unavailable';
      const states = { cold: 'downloadable', loading: 'downloading', ready: 'available' } as const;
      return states[engine.state];
    }

    static async install({ langs }: RecognitionOptions): Promise<boolean> {
      if (langs.length === 0 || !langs.every(speaks)) return false;
      return engine.load().then(
        () => true,
        () => false,
      );
    }

    lang = '';
    continuous = false;
    interimResults = false;
    maxAlternatives = 1;
    /** Always true in effect: there is no server. */
    processLocally = false;
    phrases: readonly unknown[] = [];
    endSilence: number = usualEndSilence;

    onstart: Handler = null;
    onaudiostart: Handler = null;
    onsoundstart: Handler = null;
    onspeechstart: Handler = null;
    onspeechend: Handler = null;
    onsoundend: Handler = null;
    onaudioend: Handler = null;
    onresult: Handler = null;
    onnomatch: Handler = null;
    onerror: Handler = null;
    onend: Handler = null;

    #grammars = new GrammarList();
    /** One number a session, so that whatever arrives late for an ended one is dropped. */
    #session = 0;
    #state: 'idle' | 'starting' | 'listening' | 'stopping' = 'idle';
    #microphone: OpenMicrophone | undefined;
    #results: RecognitionResult[] = [];
    #audio = false;
    #sounding = false;
    #speaking = false;
    #silence: ReturnType<typeof setTimeout> | undefined;

    constructor() {
      super();
      for (const type of handled) {
        this.addEventListener(type, (event) => this[`on${type}`]?.call(this, event));
      }
    }

    get grammars(): GrammarList {
      return this.#grammars;
    }

    /** Another list is heard from the next utterance on, without a gap. */
    set grammars(list: GrammarList) {
      this.#grammars = list;
      if (this.#state === 'listening') this.#sendGrammar();
    }

    start(track?: MediaStreamTrack): void {
      if (track !== undefined && (track.kind !== 'audio' || track.readyState !== 'live')) {
        throw new DOMException('the track is not live sound', 'InvalidStateError');
      }
      if (this.#state !== 'idle') {
        throw new DOMException('recognition has already started', 'InvalidStateError');
      }
      this.#state = 'starting';
      this.#session += 1;
      this.#results = [];
      const session = this.#session;
      const refusal = this.#refusal();
      if (refusal !== undefined) queueMicrotask(() => this.#fail(session, refusal));
      else void this.#open(session, track);
    }

    stop(): void {
      if (this.#state === 'listening') {
        this.#state = 'stopping';
        this.#closeMicrophone();
        engine.send({ type: 'stop', finish: true });
      } else if (this.#state === 'starting') this.#end(this.#session);
    }

    abort(): void {
      if (this.#state === 'idle') return;
      this.#fail(this.#session, 'aborted');
    }

    #refusal(): RecognitionErrorCode | undefined {
      if (!speaks(this.lang === '' ? 'en-US' : this.lang)) return 'language-not-supported';
      if (this.phrases.length > 0) return 'phrases-not-supported';
      return undefined;
    }

    async #open(session: number, track: MediaStreamTrack | undefined): Promise<void> {
      const current = (): boolean => this.#session === session && this.#state === 'starting';
      try {
        const opening = openMicrophone(track, (fault) => this.#fail(session, codeOf(fault), fault));
        const [microphone] = await Promise.allSettled([opening, engine.load()]).then((both) => {
          const failed = both.find((one) => one.status === 'rejected');
          const [opened] = both;
          if (failed === undefined && opened.status === 'fulfilled') return [opened.value];
          if (opened.status === 'fulfilled') opened.value.close();
          throw failed?.reason;
        });
        if (microphone === undefined || !current()) {
          microphone?.close();
          return;
        }
        this.#begin(session, microphone);
      } catch (error) {
        if (!current()) return;
        if (error instanceof MicrophoneError) {
          this.#fail(session, codeOf(error.fault), error.fault);
        } else this.#fail(session, 'service-not-allowed', `engine_failed: ${String(error)}`);
      }
    }

    #begin(session: number, microphone: OpenMicrophone): void {
      this.#state = 'listening';
      this.#microphone = microphone;
      // Whoever held the engine before has lost it.
      engine.listener?.({ type: 'crashed' });
      engine.listener = (message) => this.#hear(session, message);
      this.#sendGrammar();
      const { port, rate } = microphone;
      const { interimResults: interim, endSilence } = this;
      engine.send({ type: 'listen', port, rate, interim, endSilence }, [port]);
      this.dispatchEvent(new Event('start'));
      this.#watchSilence(session);
    }

    #hear(session: number, message: FromWorker | { readonly type: 'crashed' }): void {
      if (this.#session !== session || this.#state === 'idle') return;
      switch (message.type) {
        case 'sound':
          this.#audio = true;
          this.dispatchEvent(new Event('audiostart'));
          return;
        case 'level':
          this.dispatchEvent(new LevelEvent(message.level));
          return;
        case 'poor':
          this.dispatchEvent(new PoorEvent(message.why));
          return;
        case 'speechstart':
          clearTimeout(this.#silence);
          this.#sounding = true;
          this.dispatchEvent(new Event('soundstart'));
          this.#speaking = true;
          this.dispatchEvent(new Event('speechstart'));
          return;
        case 'speechend':
          this.#speechEnds();
          return;
        case 'partial':
          this.#result(resultOf([{ transcript: message.transcript, confidence: 0 }], false));
          return;
        case 'heard':
          this.#utterance(message.alternatives);
          this.#watchSilence(session);
          return;
        case 'stopped':
          if (this.#state === 'stopping') this.#end(session);
          return;
        case 'badGrammar':
          // The older drafts had `bad-grammar`; the present one has no code of its own for it.
          this.#fail(
            session,
            'service-not-allowed',
            `engine_failed: bad_grammar: ${message.message}`,
          );
          return;
        case 'crashed':
        case 'failed':
          this.#fail(session, 'service-not-allowed', 'engine_failed');
          return;
        case 'ready':
        case 'loading':
          return;
      }
    }

    #utterance(alternatives: readonly { transcript: string; confidence: number }[]): void {
      if (!this.continuous) {
        this.#closeMicrophone();
        this.#audioEnds();
      }
      const kept = alternatives.slice(0, Math.max(1, this.maxAlternatives));
      if (kept.length === 0) {
        this.#dropInterim();
        this.dispatchEvent(new BundledResultEvent('nomatch', this.#results, this.#results.length));
      } else {
        this.#result(resultOf(kept, true));
      }
      if (!this.continuous && this.#state === 'listening') {
        engine.send({ type: 'stop', finish: false });
        this.#end(this.#session);
      }
    }

    #result(result: RecognitionResult): void {
      this.#dropInterim();
      this.#results.push(result);
      this.dispatchEvent(new BundledResultEvent('result', this.#results, this.#results.length - 1));
    }

    #dropInterim(): void {
      if (this.#results.at(-1)?.isFinal === false) this.#results.pop();
    }

    #sendGrammar(): void {
      const jsgf = this.#grammars.chosen();
      if (jsgf !== undefined) engine.send({ type: 'expect', listening: { jsgf } });
    }

    #watchSilence(session: number): void {
      clearTimeout(this.#silence);
      if (this.continuous || this.#state !== 'listening') return;
      this.#silence = setTimeout(() => this.#fail(session, 'no-speech'), NO_SPEECH_LIMIT);
    }

    #speechEnds(): void {
      if (this.#speaking) this.dispatchEvent(new Event('speechend'));
      this.#speaking = false;
      if (this.#sounding) this.dispatchEvent(new Event('soundend'));
      this.#sounding = false;
    }

    #closeMicrophone(): void {
      this.#microphone?.close();
      this.#microphone = undefined;
    }

    #audioEnds(): void {
      if (!this.#audio) return;
      this.#audio = false;
      this.dispatchEvent(new Event('audioend'));
    }

    #fail(session: number, error: RecognitionErrorCode, message = ''): void {
      if (this.#session !== session || this.#state === 'idle') return;
      if (this.#state === 'listening') engine.send({ type: 'stop', finish: false });
      this.#state = 'stopping';
      this.#closeMicrophone();
      this.#speechEnds();
      this.#audioEnds();
      this.dispatchEvent(new BundledErrorEvent(error, message));
      this.#end(session);
    }

    #end(session: number): void {
      if (this.#session !== session || this.#state === 'idle') return;
      clearTimeout(this.#silence);
      this.#closeMicrophone();
      this.#speechEnds();
      this.#audioEnds();
      this.#state = 'idle';
      this.dispatchEvent(new Event('end'));
    }
  };
}
