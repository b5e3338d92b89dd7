/**
 * A mono 16-bit PCM WAV file.
 *
 * @param samples - from -1 to 1; what is beyond is clipped
 * @param rate - samples a second
 */
export function encodeWav(samples: Float32Array, rate: number): Buffer {
  const header = 44;
  const file = Buffer.alloc(header + samples.length * 2);
  file.write('RIFF', 0, 'ascii');
  file.writeUInt32LE(file.length - 8, 4);
  file.write('WAVEfmt ', 8, 'ascii');
  file.writeUInt32LE(16, 16);
  file.writeUInt16LE(1, 20);
  file.writeUInt16LE(1, 22);
  file.writeUInt32LE(rate, 24);
  file.writeUInt32LE(rate * 2, 28);
  file.writeUInt16LE(2, 32);
  file.writeUInt16LE(16, 34);
  file.write('data', 36, 'ascii');
  file.writeUInt32LE(samples.length * 2, 40);
  samples.forEach((sample, index) => {
    const clipped = Math.max(-1, Math.min(1, sample));
    file.writeInt16LE(Math.round(clipped * 32767), header + index * 2);
  });
  return file;
}
