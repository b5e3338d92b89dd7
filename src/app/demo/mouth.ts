import type { Wave } from '../../speech/wave.ts';

/** Somebody who speaks into a microphone of their own, heard in the room as well. */
export interface Mouth {
  /** What the ear listens to in place of a microphone; it lives until `close`. */
  readonly track: MediaStreamTrack;
  /** Resolves when the last sound was played, or at once with the signal. */
  speak(wave: Wave, signal: AbortSignal): Promise<void>;
  close(): Promise<void>;
}

/** A real room is never digitally silent; RMS of full scale. */
const room = 0.0005;

/**
 * Open a mouth.
 *
 * @param volume - of what is heard in the room, 0 to 1; the ear always gets all of it
 * @throws where the device has no sound at all
 */
export async function openMouth(volume: () => number): Promise<Mouth> {
  const context = new AudioContext();
  await context.resume();
  const out = context.createMediaStreamDestination();
  const [track] = out.stream.getAudioTracks();
  if (track === undefined || context.state !== 'running') {
    await context.close();
    throw new Error(`no_sound: the audio context is ${context.state}`);
  }
  const noise = new AudioBufferSourceNode(context, { buffer: roomNoise(context), loop: true });
  noise.connect(out);
  noise.start();
  return {
    track,
    async speak({ samples, rate }, signal) {
      const buffer = context.createBuffer(1, samples.length, rate);
      buffer.getChannelData(0).set(samples);
      const source = new AudioBufferSourceNode(context, { buffer });
      const aloud = new GainNode(context, { gain: volume() });
      source.connect(out);
      source.connect(aloud).connect(context.destination);
      await new Promise<void>((done) => {
        const stop = (): void => {
          source.onended = null;
          source.stop();
          done();
        };
        if (signal.aborted) {
          done();
          return;
        }
        signal.addEventListener('abort', stop, { once: true });
        source.onended = () => {
          signal.removeEventListener('abort', stop);
          done();
        };
        source.start();
      });
      source.disconnect();
      aloud.disconnect();
    },
    async close() {
      track.stop();
      await context.close();
    },
  };
}

/** A second of even noise; the same every time. */
function roomNoise(context: AudioContext): AudioBuffer {
  const { sampleRate } = context;
  const buffer = context.createBuffer(1, sampleRate, sampleRate);
  const samples = buffer.getChannelData(0);
  let seed = 1;
  for (let index = 0; index < samples.length; index += 1) {
    seed = (seed * 16_807) % 2_147_483_647;
    samples[index] = (seed / 1_073_741_823.5 - 1) * room * Math.sqrt(3);
  }
  return buffer;
}
