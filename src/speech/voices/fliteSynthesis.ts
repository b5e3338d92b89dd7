import { fliteAddress } from './fliteProgram.ts';
import type { Synthesise } from './BundledVoice.ts';
import type { SayAnswer, SayRequest } from './worker/messages.ts';

/**
 * flite in a worker of its own, started with the first text.
 *
 * @param program - where it was loaded already; else the worker fetches it, some 14 MB
 */
export function fliteSynthesis(program?: WebAssembly.Module): Synthesise {
  let worker: Worker | undefined;
  let next = 0;
  const waiting = new Map<number, (answer: SayAnswer) => void>();

  const start = (): Worker => {
    const fresh = new Worker(new URL('./worker/worker.ts', import.meta.url), {
      type: 'module',
      name: 'voice',
    });
    fresh.addEventListener('message', ({ data }: MessageEvent<SayAnswer>) => {
      waiting.get(data.id)?.(data);
      waiting.delete(data.id);
    });
    fresh.addEventListener('error', (event) => {
      fresh.terminate();
      worker = undefined;
      for (const [id, settle] of waiting) settle({ id, error: event.message });
      waiting.clear();
    });
    return fresh;
  };

  return (text, stretch, voice = 'slt') =>
    new Promise((resolve, reject) => {
      worker ??= start();
      next += 1;
      waiting.set(next, (answer) => {
        if ('error' in answer) reject(new Error(`voice_failed: ${answer.error}`));
        else resolve(answer);
      });
      worker.postMessage({
        id: next,
        program: program ?? fliteAddress(),
        text,
        voice,
        stretch,
      } satisfies SayRequest);
    });
}
