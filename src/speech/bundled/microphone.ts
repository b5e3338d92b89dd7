import type { EarFault } from '../ear.ts';
import workletAddress from './worklet.ts?worker&url';

/** A microphone whose sound goes straight to the worker. */
export interface OpenMicrophone {
  /** The end that the worker listens on; it can be handed over once. */
  readonly port: MessagePort;
  /** Samples a second. */
  readonly rate: number;
  close(): void;
}

/** The microphone could not be opened. */
export class MicrophoneError extends Error {
  override readonly name = 'MicrophoneError';
  readonly fault: EarFault;

  constructor(fault: EarFault, cause: unknown) {
    super(`${fault}: ${String(cause)}`);
    this.fault = fault;
  }
}

/** Opens the microphone, or listens to a track that somebody else opened. */
export type OpenMicrophoneFunction = (
  track: MediaStreamTrack | undefined,
  lost: (fault: EarFault) => void,
) => Promise<OpenMicrophone>;

/** The browser's own suppression and echo cancelling stay on: ours takes what they leave. */
const wishes: MediaStreamConstraints = {
  audio: {
    channelCount: { ideal: 1 },
    echoCancellation: true,
    noiseSuppression: true,
    autoGainControl: true,
  },
};

/** A context that runs moves its clock at least this often, ms. */
const CLOCK_CHECK = 2_000;

/** A track that the system mutes for this long has been taken by another app, ms. */
const MUTE_LIMIT = 1_500;

let shared: Promise<AudioContext> | undefined;

async function makeContext(): Promise<AudioContext> {
  const context = new AudioContext({ latencyHint: 'interactive' });
  await context.audioWorklet.addModule(workletAddress);
  return context;
}

/** One context for all sessions; one that will not run again is closed and replaced. */
async function runningContext(): Promise<AudioContext> {
  let context = await (shared ??= makeContext());
  if (context.state === 'closed') {
    shared = makeContext();
    context = await shared;
  }
  if (context.state === 'running') return context;
  await Promise.race([
    context.resume().catch(() => undefined),
    new Promise((resolve) => setTimeout(resolve, CLOCK_CHECK)),
  ]);
  if ((context.state as string) === 'running') return context;
  shared = undefined;
  await context.close().catch(() => undefined);
  throw new MicrophoneError('sound_suspended', `the audio context is ${context.state}`);
}

function faultOf(error: unknown): EarFault {
  const name = error instanceof DOMException ? error.name : '';
  switch (name) {
    case 'NotAllowedError':
    case 'SecurityError':
      return 'microphone_denied';
    case 'NotReadableError':
    case 'AbortError':
      return 'microphone_lost';
    default:
      return 'microphone_missing';
  }
}

async function streamOf(track: MediaStreamTrack | undefined): Promise<MediaStream> {
  if (track !== undefined) return new MediaStream([track]);
  // Over plain http the whole of `mediaDevices` is absent.
  const devices = navigator.mediaDevices as MediaDevices | undefined;
  if (devices === undefined) throw new MicrophoneError('microphone_missing', 'no mediaDevices');
  try {
    return await devices.getUserMedia(wishes);
  } catch (error) {
    throw new MicrophoneError(faultOf(error), error);
  }
}

/** @throws {MicrophoneError} */
export const openMicrophone: OpenMicrophoneFunction = async (track, lost) => {
  const stream = await streamOf(track);
  const release = (): void => {
    if (track === undefined) for (const own of stream.getTracks()) own.stop();
  };
  try {
    const context = await runningContext();
    const source = context.createMediaStreamSource(stream);
    const capture = new AudioWorkletNode(context, 'capture', { numberOfOutputs: 0 });
    const { port1, port2 } = new MessageChannel();
    capture.port.postMessage(port1, [port1]);
    source.connect(capture);

    let open = true;
    const lose = (fault: EarFault) => (): void => {
      if (open) lost(fault);
    };
    const unplugged = lose('microphone_lost');
    const suspended = lose('sound_suspended');
    const stateChanged = (): void => {
      if (context.state !== 'running') suspended();
    };
    let muted: ReturnType<typeof setTimeout> | undefined;
    const watchMute = (): void => {
      clearTimeout(muted);
      if (stream.getAudioTracks().some((own) => own.muted)) {
        muted = setTimeout(unplugged, MUTE_LIMIT);
      }
    };
    for (const own of stream.getAudioTracks()) {
      own.addEventListener('ended', unplugged);
      own.addEventListener('mute', watchMute);
      own.addEventListener('unmute', watchMute);
    }
    watchMute();
    context.addEventListener('statechange', stateChanged);
    let clock = context.currentTime;
    // After a phone call an iPad may say `running` while its clock stands still.
    const check = setInterval(() => {
      if (context.currentTime === clock) {
        shared = undefined;
        void context.close().catch(() => undefined);
        suspended();
      }
      clock = context.currentTime;
    }, CLOCK_CHECK);
    return {
      port: port2,
      rate: context.sampleRate,
      close() {
        if (!open) return;
        open = false;
        clearInterval(check);
        context.removeEventListener('statechange', stateChanged);
        clearTimeout(muted);
        for (const own of stream.getAudioTracks()) {
          own.removeEventListener('ended', unplugged);
          own.removeEventListener('mute', watchMute);
          own.removeEventListener('unmute', watchMute);
        }
        source.disconnect();
        release();
      },
    };
  } catch (error) {
    release();
    if (error instanceof MicrophoneError) throw error;
    throw new MicrophoneError('sound_suspended', error);
  }
};
