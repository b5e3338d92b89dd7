import type { Page } from 'playwright-core';
import { writeWave } from '../../src/speech/wave.ts';

/** Samples a second of every clip that a test speaks. */
export const CLIP_RATE = 16_000;

/** Why the page gets no microphone; the names are the `DOMException`s of `getUserMedia`. */
export type MicrophoneFault = 'NotAllowedError' | 'NotFoundError' | 'NotReadableError';

export interface MicrophoneOptions {
  /** Loudness of the quiet room, RMS of full scale. A real microphone is never digitally silent. */
  readonly room?: number;
  readonly fault?: MicrophoneFault;
}

/** A loudspeaker held to the page's microphone. */
export interface Microphone {
  /**
   * Play a clip into the microphone in real time; resolves when its last sample was played.
   *
   * Nobody hears it while the page has no microphone open, as in life.
   *
   * @param clip - mono, 16 kHz, from -1 to 1
   */
  speak(clip: Float32Array): Promise<void>;
  /** How many tracks the page holds open now. */
  openTracks(): Promise<number>;
  /** Resolves when the page holds a microphone open. */
  untilOpen(): Promise<void>;
  /** From now on the page is refused a microphone, or given one again. */
  refuse(fault: MicrophoneFault | null): Promise<void>;
  /** Pull the plug: every open track ends. */
  unplug(): Promise<void>;
}

interface InPage {
  play(wav: string): Promise<void>;
  openTracks(): number;
  refuse(fault: MicrophoneFault | null): void;
  unplug(): void;
}

type HeldWindow = Window & { glovesideMicrophone: InPage };

/**
 * Put a microphone into the page that hears what the test speaks, when the test speaks it.
 *
 * The page's own capture, worklet, end of speech and engine run on it unchanged: only
 * `getUserMedia` is another one. Call it before the page is opened; it survives reloads.
 */
export async function plugMicrophone(
  page: Page,
  options: MicrophoneOptions = {},
): Promise<Microphone> {
  // The page may ask what it is allowed before it asks for the microphone.
  if (options.fault !== 'NotAllowedError') await page.context().grantPermissions(['microphone']);
  await page.addInitScript(installMicrophone, {
    room: options.room ?? 0.0005,
    fault: options.fault ?? null,
  });
  return {
    async speak(clip) {
      const wav = Buffer.from(writeWave({ samples: clip, rate: CLIP_RATE })).toString('base64');
      await page.evaluate(
        (data) => (window as unknown as HeldWindow).glovesideMicrophone.play(data),
        wav,
      );
    },
    openTracks: () =>
      page.evaluate(() => (window as unknown as HeldWindow).glovesideMicrophone.openTracks()),
    async untilOpen() {
      await page.waitForFunction(
        () => (window as unknown as HeldWindow).glovesideMicrophone.openTracks() > 0,
      );
    },
    refuse: (fault) =>
      page.evaluate(
        (name) => (window as unknown as HeldWindow).glovesideMicrophone.refuse(name),
        fault,
      ),
    unplug: () =>
      page.evaluate(() => (window as unknown as HeldWindow).glovesideMicrophone.unplug()),
  };
}

/** Runs inside the page, before its own scripts; it can use nothing from outside itself. */
function installMicrophone(start: { room: number; fault: MicrophoneFault | null }): void {
  let fault = start.fault;
  let sound: { context: AudioContext; out: MediaStreamAudioDestinationNode } | undefined;
  let tracks: MediaStreamTrack[] = [];

  const open = () => {
    if (sound !== undefined) return sound;
    const context = new AudioContext({ sampleRate: 48_000 });
    const out = context.createMediaStreamDestination();
    const noise = context.createBuffer(1, 48_000, 48_000);
    const samples = noise.getChannelData(0);
    let seed = 1;
    for (let index = 0; index < samples.length; index += 1) {
      seed = (seed * 16_807) % 2_147_483_647;
      samples[index] = (seed / 1_073_741_823.5 - 1) * start.room * Math.sqrt(3);
    }
    const room = new AudioBufferSourceNode(context, { buffer: noise, loop: true });
    room.connect(out);
    room.start();
    sound = { context, out };
    return sound;
  };

  const held: InPage = {
    async play(wav) {
      const { context, out } = open();
      await context.resume();
      const bytes = Uint8Array.from(atob(wav), (letter) => letter.charCodeAt(0));
      const buffer = await context.decodeAudioData(bytes.buffer);
      const source = new AudioBufferSourceNode(context, { buffer });
      source.connect(out);
      await new Promise((done) => {
        source.addEventListener('ended', done, { once: true });
        source.start();
      });
      source.disconnect();
    },
    openTracks() {
      tracks = tracks.filter((track) => track.readyState === 'live');
      return tracks.length;
    },
    refuse(name) {
      fault = name;
    },
    unplug() {
      for (const track of tracks) {
        track.stop();
        track.dispatchEvent(new Event('ended'));
      }
      tracks = [];
    },
  };
  Object.assign(window, { glovesideMicrophone: held });

  // A page that is not a secure context has no media devices, and is to be tested as it is.
  const devices = navigator.mediaDevices as MediaDevices | undefined;
  if (devices === undefined) return;
  devices.getUserMedia = async (constraints) => {
    if (fault !== null) throw new DOMException('refused by the test', fault);
    if (constraints?.video) throw new DOMException('the test has no camera', 'NotFoundError');
    const { context, out } = open();
    await context.resume();
    const copies = out.stream.getAudioTracks().map((track) => track.clone());
    tracks.push(...copies);
    return new MediaStream(copies);
  };
}
