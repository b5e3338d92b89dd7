import type { EngineHost } from '../speech/bundled/engineHost.ts';

/**
 * Whether the bundled ear's model is on its way. The first time it comes over the network, and a slow
 * one takes half a minute: nobody waits for it, but the screen says why nothing is heard yet.
 */
export class EarLoading {
  pending = $state(false);
  /** How much of it has come, 0 to 1. */
  share = $state(0);
  /** Somebody wants the network spared; a walk loads the ear all the same. */
  stopped = $state(false);
  #engine: Pick<EngineHost, 'stop'> | undefined;
  #resume: () => void = () => undefined;

  /**
   * Pending until it is loaded or can not be; what went wrong is told when the ear is opened. Stopped,
   * it is not over: this waits until somebody loads it again.
   */
  async of(engine: Pick<EngineHost, 'load' | 'stop'>): Promise<void> {
    this.#engine = engine;
    this.pending = true;
    // Opening the ear again says what went wrong.
    await engine.load().catch(() => undefined);
    this.pending = false;
    if (!this.stopped) return;
    await new Promise<void>((resume) => (this.#resume = resume));
    this.stopped = false;
    await this.of(engine);
  }

  stop(): void {
    if (!this.pending) return;
    this.stopped = true;
    this.#engine?.stop();
  }

  /** Go on, where it was stopped. */
  resume(): void {
    this.#resume();
  }
}

/** Of this page. */
export const earLoading = new EarLoading();
