import createSoundSwallower from 'soundswallower';
import { Denoiser } from '../denoiser.ts';
import type { FromWorker, ToWorker } from '../messages.ts';
import { Recogniser } from '../recogniser.ts';
import { fetchOnce } from '../fetchOnce.ts';
import { modelFiles } from './modelFiles.ts';

const tell = (message: FromWorker): void => {
  postMessage(message);
};

type Listen = Extract<ToWorker, { type: 'listen' }>;

let recogniser: Recogniser | undefined;
let source: MessagePort | undefined;
/** What came before the last of the ear was open; sound waits in its port meanwhile. */
let early: ToWorker[] = [];

async function open(): Promise<void> {
  const files = modelFiles();
  // The page holds its own programs back until this worker runs.
  tell({ type: 'loading', share: 0 });
  const [module, giveUp] = await Promise.all([
    createSoundSwallower(),
    fetchOnce(files, (share) => tell({ type: 'loading', share })),
  ]);
  const denoiser = await Denoiser.open(await (await fetch(files.denoiser)).arrayBuffer());
  const now = () => performance.now();
  // From here on no sound is lost: what is said now is heard a moment later.
  const certain = () => tell({ type: 'ready' });
  recogniser = await Recogniser.open(module, files, denoiser, tell, now, certain);
  giveUp();
  for (const message of early) take(message);
  early = [];
}

function listen({ port, rate, interim, endSilence }: Listen): void {
  source?.close();
  source = port;
  if (recogniser) {
    recogniser.interim = interim;
    recogniser.endSilence = endSilence;
  }
  let first = true;
  port.onmessage = ({ data }: MessageEvent<Float32Array>) => {
    if (source !== port) return;
    if (first) tell({ type: 'sound' });
    first = false;
    recogniser?.push(data, rate);
  };
}

function stop(finish: boolean): void {
  source?.close();
  source = undefined;
  if (finish) recogniser?.finish();
  recogniser?.drop();
  tell({ type: 'stopped' });
}

function take(message: ToWorker): void {
  switch (message.type) {
    case 'listen':
      listen(message);
      return;
    case 'expect':
      recogniser?.expect(message.listening);
      return;
    case 'stop':
      stop(message.finish);
  }
}

addEventListener('message', ({ data }: MessageEvent<ToWorker>) => {
  if (recogniser === undefined) early.push(data);
  else take(data);
});

// Not when it is told to: the first message comes only once the page's thread has time for it, which on a
// slow tablet that opens its programs is a third of a second later.
open().catch((error: unknown) => {
  tell({ type: 'failed', message: String(error) });
});
