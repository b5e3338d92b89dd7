import type { Expectation } from '../../grammar/expectation.ts';
import type { Ear, EarSignal } from '../ear.ts';

/** Listens to the keyboard: for the hoarse, for the quiet room, and where no microphone is. */
export class TypedEar implements Ear {
  readonly name = 'typed';
  readonly #now: () => number;
  #tell: ((signal: EarSignal) => void) | undefined;

  /** @param now - ms since the Unix epoch */
  constructor(now: () => number = Date.now) {
    this.#now = now;
  }

  open(_expectation: Expectation, tell: (signal: EarSignal) => void): void {
    const session = (signal: EarSignal): void => {
      tell(signal);
    };
    this.#tell = session;
    // Engines start after the call as well; whoever opens an ear may still be setting up.
    queueMicrotask(() => {
      if (this.#tell === session) session({ type: 'ready' });
    });
  }

  /** The grammar judges what is typed afterwards; there is nothing to narrow. */
  expect(): void {
    // Nothing to do.
  }

  close(): void {
    this.#tell = undefined;
  }

  /** One line was typed and sent. @returns false when nobody listens */
  type(line: string): boolean {
    const transcript = line.trim();
    if (this.#tell === undefined || transcript === '') return false;
    this.#tell({
      type: 'heard',
      hearing: {
        ear: 'typed',
        alternatives: [{ transcript, confidence: 1 }],
        fit: 'taken',
        at: this.#now(),
      },
    });
    return true;
  }
}
