import type { Expectation } from '../grammar/expectation.ts';
import type { Ear, EarFault, EarName, EarSignal } from './ear.ts';

/** Faults of an engine, not of the microphone: another engine on the same device may well start. */
const ofEngine: ReadonlySet<EarFault> = new Set<EarFault>([
  'engine_missing',
  'engine_silent',
  'engine_failed',
  'language_missing',
  'remote_refused',
]);

/**
 * An ear with another in reserve: a browser's engine that says it is there and then never starts.
 *
 * The first one is given up when it fails before it ever listened; from then on the spare listens.
 */
export class EarWithSpare implements Ear {
  readonly #makeSpare: () => Ear;
  #ear: Ear;
  #proven = false;
  #spared = false;
  #expectation: Expectation | undefined;

  constructor(first: Ear, makeSpare: () => Ear) {
    this.#ear = first;
    this.#makeSpare = makeSpare;
  }

  get name(): EarName {
    return this.#ear.name;
  }

  open(expectation: Expectation, tell: (signal: EarSignal) => void): void {
    this.#expectation = expectation;
    this.#ear.open(expectation, (signal) => {
      if (signal.type === 'ready') this.#proven = true;
      const isUseless = signal.type === 'fault' && ofEngine.has(signal.fault);
      if (isUseless && !this.#proven && !this.#spared) this.#takeSpare(tell);
      else tell(signal);
    });
  }

  expect(expectation: Expectation): void {
    this.#expectation = expectation;
    this.#ear.expect(expectation);
  }

  close(): void {
    this.#ear.close();
  }

  #takeSpare(tell: (signal: EarSignal) => void): void {
    this.#ear.close();
    this.#spared = true;
    this.#ear = this.#makeSpare();
    if (this.#expectation !== undefined) this.open(this.#expectation, tell);
  }
}
