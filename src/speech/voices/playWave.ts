import type { Play } from './BundledVoice.ts';

/** Play through Web Audio on the context given. */
export function playWave(contextOf: () => AudioContext): Play {
  return async ({ samples, rate }, signal, volume = 1) => {
    const context = contextOf();
    if (context.state !== 'running') await context.resume();
    const buffer = context.createBuffer(1, samples.length, rate);
    buffer.getChannelData(0).set(samples);
    const source = new AudioBufferSourceNode(context, { buffer });
    source.connect(new GainNode(context, { gain: volume })).connect(context.destination);
    await new Promise<void>((resolve, reject) => {
      const stop = (): void => {
        clearTimeout(watchdog);
        source.onended = null;
        source.stop();
        reject(signal.reason as Error);
      };
      // A context that the system suspends in the midst never ends its sources.
      const watchdog = setTimeout(stop, (samples.length / rate) * 1000 + 3_000);
      signal.addEventListener('abort', stop, { once: true });
      source.onended = () => {
        clearTimeout(watchdog);
        signal.removeEventListener('abort', stop);
        resolve();
      };
      source.start();
    });
  };
}
