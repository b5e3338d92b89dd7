import createSoundSwallower from 'soundswallower';
import { Denoiser } from '../denoiser.ts';
import type { FromWorker, ToWorker } from '../messages.ts';
import { Recogniser } from '../recogniser.ts';
import { fetchOnce } from '../fetchOnce.ts';

const tell = (message: FromWorker): void => {
  postMessage(message);
};

type Listen = Extract<ToWorker, { type: 'listen' }>;

let recogniser: Recogniser | undefined;
let source: MessagePort | undefined;

async function open({ files }: Extract<ToWorker, { type: 'open' }>): Promise<void> {
  const [module, giveUp] = await Promise.all([
    createSoundSwallower(),
    fetchOnce(files, (share) => tell({ type: 'loading', share })),
  ]);
  const denoiser = await Denoiser.open(await (await fetch(files.denoiser)).arrayBuffer());
  recogniser = await Recogniser.open(module, files, denoiser, tell, () => performance.now());
  giveUp();
  tell({ type: 'ready' });
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

addEventListener('message', ({ data }: MessageEvent<ToWorker>) => {
  switch (data.type) {
    case 'open':
      open(data).catch((error: unknown) => {
        tell({ type: 'failed', message: String(error) });
      });
      return;
    case 'listen':
      listen(data);
      return;
    case 'expect':
      recogniser?.expect(data.listening);
      return;
    case 'stop':
      stop(data.finish);
  }
});
