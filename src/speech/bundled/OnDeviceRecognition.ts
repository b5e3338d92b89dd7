import { bundledRecognition } from './bundledRecognition.ts';
import { createEngineHost } from './engineHost.ts';
import { openMicrophone } from './microphone.ts';
import { modelFiles } from './modelFiles.ts';

const makeWorker = (): Worker =>
  new Worker(new URL('./worker/worker.ts', import.meta.url), { type: 'module', name: 'ear' });

/** The page's one engine; it stays loaded between sessions. */
export const engineHost = createEngineHost(makeWorker, modelFiles);

/** Web Speech's `SpeechRecognition`, on the device, for every browser that has a microphone. */
export const OnDeviceRecognition = bundledRecognition({ engine: engineHost, openMicrophone });
