import { flite } from '../flite.ts';
import type { SayAnswer, SayRequest } from './messages.ts';

let program: Promise<WebAssembly.Module> | undefined;

/** Fetched once, 14 MB packed: only a device without a voice of its own pays for it. */
const load = (given: string | WebAssembly.Module): Promise<WebAssembly.Module> =>
  (program ??= typeof given === 'string' ? fetched(given) : Promise.resolve(given));

const fetched = (address: string): Promise<WebAssembly.Module> =>
  fetch(address).then(async (response) => {
    if (!response.ok) throw new Error(`voice_missing: ${response.status} at ${address}`);
    return WebAssembly.compile(await response.arrayBuffer());
  });

const answer = (message: SayAnswer, transfer: Transferable[] = []): void => {
  postMessage(message, { transfer });
};

addEventListener('message', ({ data }: MessageEvent<SayRequest>) => {
  const { id, text, voice, stretch } = data;
  load(data.program).then(
    (module) => {
      try {
        const { samples, rate } = flite(module, text, voice, stretch);
        answer({ id, samples, rate }, [samples.buffer]);
      } catch (error) {
        answer({ id, error: String(error) });
      }
    },
    (error: unknown) => {
      program = undefined;
      answer({ id, error: String(error) });
    },
  );
});
