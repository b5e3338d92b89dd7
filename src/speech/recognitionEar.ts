import type { Expectation } from '../grammar/expectation.ts';
import type { Alternative, Ear, EarFault, EarName, EarSignal, Hearing } from './ear.ts';
import type {
  Recognition,
  RecognitionErrorEvent,
  RecognitionResult,
  RecognitionResultEvent,
} from './recognition.ts';

/** How one engine differs from the next behind the one contract. */
export interface RecognitionEngine {
  readonly name: EarName;
  /** @throws when the browser has no such engine */
  make(): Recognition;
  /** Give the engine what may be said, in the way it takes it: before `start` and in the midst. */
  tune(recognition: Recognition, expectation: Expectation): void;
  /** One utterance after the engine's own verdict. */
  fitOf(alternatives: readonly Alternative[], expectation: Expectation): Hearing['fit'];
  /**
   * An error that the engine can go on from, once: take away what it refused and say so.
   *
   * @returns true when the session is worth another start at once
   */
  retreat?(error: RecognitionErrorEvent, recognition: Recognition): boolean;
  /** End the session by ourselves when a final result never comes, ms; absent where it does come. */
  readonly interimLimit?: number;
  /** A session that does not start within this time never will, ms. */
  readonly startLimit: number;
}

const faults: ReadonlySet<string> = new Set<EarFault>([
  'microphone_denied',
  'microphone_missing',
  'microphone_lost',
  'engine_missing',
  'engine_silent',
  'engine_failed',
  'language_missing',
  'remote_refused',
  'sound_suspended',
]);

/** Our own engine names the fault in the message; of a browser's we have the code alone. */
function faultOf({ error, message }: RecognitionErrorEvent, started: boolean): EarFault | null {
  const named = message.split(':')[0] ?? '';
  if (faults.has(named)) return named as EarFault;
  switch (error) {
    case 'no-speech':
    case 'aborted':
      return null;
    case 'not-allowed':
      return 'microphone_denied';
    case 'audio-capture':
      return started ? 'microphone_lost' : 'microphone_missing';
    case 'language-not-supported':
      return 'language_missing';
    case 'service-not-allowed':
      return 'remote_refused';
    case 'network':
    case 'phrases-not-supported':
      return 'engine_failed';
  }
}

const alternativesOf = (result: RecognitionResult): Alternative[] =>
  Array.from(result, ({ transcript, confidence }) => ({
    transcript: transcript.trim(),
    confidence,
  })).filter(({ transcript }) => transcript !== '');

/** The one adapter between the port and any engine that keeps the Web Speech contract. */
export class RecognitionEar implements Ear {
  readonly name: EarName;
  readonly #engine: RecognitionEngine;
  readonly #now: () => number;
  #session: Session | undefined;

  /** @param now - ms since the Unix epoch */
  constructor(engine: RecognitionEngine, now: () => number = Date.now) {
    this.name = engine.name;
    this.#engine = engine;
    this.#now = now;
  }

  open(expectation: Expectation, tell: (signal: EarSignal) => void): void {
    this.close();
    this.#session = new Session(this.#engine, expectation, tell, this.#now);
  }

  expect(expectation: Expectation): void {
    this.#session?.expect(expectation);
  }

  close(): void {
    this.#session?.close();
    this.#session = undefined;
  }
}

/** From one `open` to its end. A session that is over tells nothing more, whatever still arrives. */
class Session {
  readonly #engine: RecognitionEngine;
  readonly #tell: (signal: EarSignal) => void;
  readonly #now: () => number;
  #expectation: Expectation;
  #recognition: Recognition | undefined;
  #started = false;
  #retreated = false;
  #again = false;
  #over = false;
  #spokenAt: number | undefined;
  #interim: readonly Alternative[] = [];
  #interimTimer: ReturnType<typeof setTimeout> | undefined;
  #startTimer: ReturnType<typeof setTimeout> | undefined;

  constructor(
    engine: RecognitionEngine,
    expectation: Expectation,
    tell: (signal: EarSignal) => void,
    now: () => number,
  ) {
    this.#engine = engine;
    this.#expectation = expectation;
    this.#tell = tell;
    this.#now = now;
    let recognition: Recognition;
    try {
      recognition = engine.make();
    } catch {
      this.#fault('engine_missing');
      return;
    }
    this.#recognition = recognition;
    recognition.lang = 'en-US';
    recognition.continuous = true;
    recognition.interimResults = engine.interimLimit !== undefined;
    recognition.maxAlternatives = 5;
    this.#listen(recognition);
    try {
      engine.tune(recognition, expectation);
    } catch {
      // Only an engine that can not promise to stay on the device can not be set up.
      this.#fault('remote_refused');
      return;
    }
    this.#start(recognition);
  }

  expect(expectation: Expectation): void {
    this.#expectation = expectation;
    if (this.#recognition !== undefined) this.#engine.tune(this.#recognition, expectation);
  }

  close(): void {
    this.#finish();
    // Not `stop`: it still gives a result for what was said so far.
    this.#recognition?.abort();
  }

  #finish(): void {
    this.#over = true;
    clearTimeout(this.#interimTimer);
    clearTimeout(this.#startTimer);
  }

  #start(recognition: Recognition): void {
    clearTimeout(this.#startTimer);
    this.#startTimer = setTimeout(() => {
      this.#fault('engine_silent');
      recognition.abort();
    }, this.#engine.startLimit);
    try {
      recognition.start();
    } catch {
      this.#fault('engine_failed');
    }
  }

  #listen(recognition: Recognition): void {
    const on = (type: string, handle: (event: Event) => void): void => {
      recognition.addEventListener(type, (event) => {
        if (!this.#over) handle(event);
      });
    };
    on('start', () => {
      clearTimeout(this.#startTimer);
      this.#started = true;
      this.#tell({ type: 'ready' });
    });
    on('speechstart', () => {
      this.#spokenAt = undefined;
      this.#tell({ type: 'speaking' });
    });
    on('speechend', () => {
      this.#spokenAt = this.#now();
    });
    on('result', (event) => {
      this.#result(event as RecognitionResultEvent);
    });
    on('nomatch', () => {
      this.#heard([], 'none');
    });
    on('level', (event) => {
      this.#tell({ type: 'level', level: (event as Event & { level: number }).level });
    });
    on('poor', (event) => {
      this.#tell({ type: 'poor', why: (event as Event & { why: 'loud' | 'faint' }).why });
    });
    on('error', (event) => {
      this.#error(event as RecognitionErrorEvent, recognition);
    });
    on('end', () => {
      if (this.#again) {
        this.#again = false;
        this.#start(recognition);
        return;
      }
      this.#finish();
      this.#tell({ type: 'ended' });
    });
  }

  #result({ results, resultIndex }: RecognitionResultEvent): void {
    clearTimeout(this.#interimTimer);
    for (let index = resultIndex; index < results.length; index += 1) {
      const result = results.item(index);
      const alternatives = alternativesOf(result);
      if (result.isFinal) {
        this.#interim = [];
        this.#heard(alternatives);
      } else this.#interim = alternatives;
    }
    if (this.#interim.length === 0 || this.#engine.interimLimit === undefined) return;
    // Some engines hold the final result back until they are stopped.
    this.#interimTimer = setTimeout(() => {
      const alternatives = this.#interim;
      this.#interim = [];
      this.#heard(alternatives);
      if (this.#over) return;
      this.#finish();
      this.#recognition?.abort();
      this.#tell({ type: 'ended' });
    }, this.#engine.interimLimit);
  }

  #heard(alternatives: readonly Alternative[], verdict?: Hearing['fit']): void {
    const fit =
      alternatives.length === 0
        ? 'none'
        : (verdict ?? this.#engine.fitOf(alternatives, this.#expectation));
    const at = this.#spokenAt ?? this.#now();
    this.#spokenAt = undefined;
    this.#tell({ type: 'heard', hearing: { ear: this.#engine.name, alternatives, fit, at } });
  }

  #error(event: RecognitionErrorEvent, recognition: Recognition): void {
    if (this.#again) return;
    if (!this.#retreated && this.#engine.retreat?.(event, recognition) === true) {
      this.#retreated = true;
      this.#again = true;
      return;
    }
    const fault = faultOf(event, this.#started);
    if (fault !== null) this.#fault(fault);
  }

  #fault(fault: EarFault): void {
    if (this.#over) return;
    this.#finish();
    this.#tell({ type: 'fault', fault });
  }
}
