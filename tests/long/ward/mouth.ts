import type { Ear, EarSignal } from '../../../src/speech/ear.ts';
import type { Voice } from '../../../src/speech/voice.ts';

/** An ear that hears what it is given, and a voice that is done at once. */
export class Mouth {
  #tell: ((signal: EarSignal) => void) | null = null;
  readonly ear: Ear = {
    name: 'bundled',
    open: (_, tell) => {
      this.#tell = tell;
      queueMicrotask(() => {
        if (this.#tell === tell) tell({ type: 'ready' });
      });
    },
    expect: () => undefined,
    close: () => {
      this.#tell = null;
    },
  };
  /** Texts in the order they were said. */
  readonly spoken: string[] = [];
  /** So many texts can not be said. */
  mute = 0;
  readonly voice: Voice = {
    name: 'system',
    say: (text) => {
      this.spoken.push(text);
      if (this.spoken.length > 50) this.spoken.shift();
      if (this.mute === 0) return Promise.resolve();
      this.mute -= 1;
      return Promise.reject(new Error('no voice'));
    },
  };

  say(transcript: string, fit: 'taken' | 'none' = 'taken'): void {
    const alternatives = fit === 'none' ? [] : [{ transcript, confidence: 0.9 }];
    const hearing = { ear: 'bundled', alternatives, fit, at: Date.now() } as const;
    this.#tell?.({ type: 'heard', hearing });
  }

  signal(signal: EarSignal): void {
    this.#tell?.(signal);
  }
}
