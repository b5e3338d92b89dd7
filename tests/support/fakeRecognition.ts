import type {
  Availability,
  Recognition,
  RecognitionErrorCode,
  RecognitionType,
} from '../../src/speech/recognition.ts';
import {
  BundledErrorEvent,
  BundledResultEvent,
  resultOf,
} from '../../src/speech/bundled/recognitionEvents.ts';

/** How a browser's engine misbehaves. All are off in the engine of the books. */
export interface RecognitionQuirks {
  /** `start` does nothing at all, ever. */
  readonly neverStarts?: boolean;
  /** `start` throws. */
  readonly throws?: boolean;
  /** It fails at once with this code, with and without `start` before it. */
  readonly failsWith?: RecognitionErrorCode;
  /** Phrases are refused, the error told twice (seen in Chromium). */
  readonly refusesPhrases?: boolean;
  /** `stop` and `abort` do not end the session, and results go on (old Safari). */
  readonly ignoresStop?: boolean;
  /** It says so about its local engine. */
  readonly availability?: Availability;
  readonly installs?: boolean;
  /** It knows nothing of local processing, phrases, availability (Safari, Android). */
  readonly old?: boolean;
}

/** A browser's engine under the test's hand. */
export interface FakeEngine {
  readonly type: RecognitionType;
  /** The session that was made last. */
  readonly last: () => FakeRecognition;
  readonly made: FakeRecognition[];
}

export interface FakeRecognition extends Recognition {
  readonly starts: number;
  readonly running: boolean;
  /** Somebody speaks: every alternative with its confidence. */
  hear(alternatives: readonly (readonly [string, number])[], isFinal?: boolean): void;
  fail(code: RecognitionErrorCode): void;
  /** The session ends by itself. */
  finish(): void;
}

export function fakeEngine(quirks: RecognitionQuirks = {}): FakeEngine {
  const made: FakeRecognition[] = [];

  class Fake extends EventTarget implements FakeRecognition {
    static available?: RecognitionType['available'];
    static install?: RecognitionType['install'];
    lang = '';
    continuous = false;
    interimResults = false;
    maxAlternatives = 1;
    declare processLocally?: boolean;
    declare phrases?: readonly unknown[];
    starts = 0;
    running = false;

    constructor() {
      super();
      if (quirks.old !== true) {
        this.processLocally = false;
        this.phrases = [];
      }
      made.push(this);
    }

    start(): void {
      if (quirks.throws === true) throw new DOMException('already started', 'InvalidStateError');
      this.starts += 1;
      if (quirks.neverStarts === true) return;
      queueMicrotask(() => {
        if (quirks.failsWith !== undefined) {
          this.fail(quirks.failsWith);
          return;
        }
        if (quirks.refusesPhrases === true && (this.phrases?.length ?? 0) > 0) {
          this.dispatchEvent(new BundledErrorEvent('phrases-not-supported'));
          this.fail('phrases-not-supported');
          return;
        }
        this.running = true;
        this.dispatchEvent(new Event('start'));
      });
    }

    stop(): void {
      if (quirks.ignoresStop !== true) this.finish();
    }

    abort(): void {
      if (quirks.ignoresStop !== true && this.running) this.finish();
    }

    hear(alternatives: readonly (readonly [string, number])[], isFinal = true): void {
      this.dispatchEvent(new Event('speechstart'));
      const heard = alternatives.map(([transcript, confidence]) => ({ transcript, confidence }));
      if (isFinal) this.dispatchEvent(new Event('speechend'));
      this.dispatchEvent(new BundledResultEvent('result', [resultOf(heard, isFinal)], 0));
    }

    fail(code: RecognitionErrorCode): void {
      this.running = false;
      this.dispatchEvent(new BundledErrorEvent(code));
      this.dispatchEvent(new Event('end'));
    }

    finish(): void {
      this.running = false;
      this.dispatchEvent(new Event('end'));
    }
  }
  if (quirks.old !== true) {
    Fake.available = () => Promise.resolve(quirks.availability ?? 'available');
    Fake.install = () => Promise.resolve(quirks.installs ?? true);
  }
  return {
    type: Fake,
    made,
    last: () => {
      const recognition = made.at(-1);
      if (recognition === undefined) throw new Error('nothing was made yet');
      return recognition;
    },
  };
}
