import type { EngineHost } from '../../src/speech/bundled/engineHost.ts';
import type { FromWorker, ToWorker } from '../../src/speech/bundled/messages.ts';
import {
  MicrophoneError,
  type OpenMicrophoneFunction,
} from '../../src/speech/bundled/microphone.ts';
import type { EarFault } from '../../src/speech/ear.ts';

/** An engine that is loaded, or not, when this is; stopping it does nothing. */
export const loadedBy = (loading: Promise<void>): Pick<EngineHost, 'load' | 'stop'> => ({
  load: () => loading,
  stop: () => undefined,
});

/** The bundled engine at its boundary: the messages of its worker, and a microphone of the test. */
export interface FakeBundled {
  readonly engine: EngineHost;
  readonly openMicrophone: OpenMicrophoneFunction;
  readonly sent: ToWorker[];
  /** The worker tells the page. */
  tell(message: FromWorker | { readonly type: 'crashed' }): void;
  /** Microphones open now. */
  readonly open: () => number;
  /** The plug is pulled, or the system suspends the sound. */
  lose(fault: EarFault): void;
}

export function fakeBundled(
  options: { readonly refuses?: EarFault; readonly loadFails?: boolean } = {},
): FakeBundled {
  const sent: ToWorker[] = [];
  const losers = new Set<(fault: EarFault) => void>();
  const engine: EngineHost & { state: EngineHost['state'] } = {
    state: 'cold',
    loaded: 0,
    onLoaded: null,
    listener: null,
    load: () => {
      if (options.loadFails === true) return Promise.reject(new Error('no model'));
      engine.state = 'ready';
      return Promise.resolve();
    },
    stop: () => undefined,
    send(message) {
      sent.push(message);
      if (message.type === 'stop') queueMicrotask(() => engine.listener?.({ type: 'stopped' }));
    },
  };
  return {
    engine,
    sent,
    openMicrophone: (_track, lost) => {
      if (options.refuses !== undefined) {
        return Promise.reject(new MicrophoneError(options.refuses, 'the test refuses'));
      }
      losers.add(lost);
      return Promise.resolve({
        port: new MessageChannel().port1,
        rate: 48_000,
        close: () => losers.delete(lost),
      });
    },
    tell: (message) => engine.listener?.(message),
    open: () => losers.size,
    lose: (fault) => {
      for (const lost of [...losers]) lost(fault);
    },
  };
}
