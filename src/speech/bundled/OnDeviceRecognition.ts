import { bundledRecognition } from './bundledRecognition.ts';
import { openMicrophone } from './microphone.ts';
import { engineHost } from './ownEngine.ts';

/** Web Speech's `SpeechRecognition`, on the device, for every browser that has a microphone. */
export const OnDeviceRecognition = bundledRecognition({ engine: engineHost, openMicrophone });
