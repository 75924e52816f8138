/** A mono WAV file of 16 bits, written by hand: RIFF, fmt, data. */
export function wav(samples: Float64Array, sampleRateHz: number): Buffer {
  const file = Buffer.alloc(44 + 2 * samples.length);
  file.write("RIFF", 0);
  file.writeUInt32LE(36 + 2 * samples.length, 4);
  file.write("WAVEfmt ", 8);
  file.writeUInt32LE(16, 16);
  file.writeUInt16LE(1, 20);
  file.writeUInt16LE(1, 22);
  file.writeUInt32LE(sampleRateHz, 24);
  file.writeUInt32LE(2 * sampleRateHz, 28);
  file.writeUInt16LE(2, 32);
  file.writeUInt16LE(16, 34);
  file.write("data", 36);
  file.writeUInt32LE(2 * samples.length, 40);
  samples.forEach((sample, k) => file.writeInt16LE(Math.round(32767 * sample), 44 + 2 * k));
  return file;
}

/** A sine of a note held for some seconds. */
export const heldNote = (hertz: number, seconds: number, sampleRateHz: number): Float64Array =>
  Float64Array.from(
    {length: seconds * sampleRateHz},
    (_, n) => 0.5 * Math.sin((2 * Math.PI * hertz * n) / sampleRateHz),
  );

/** A mono WAV file of 32-bit floats, which can hold what is no number. */
export function floatWav(samples: Float32Array, sampleRateHz: number): Buffer {
  const head = wav(new Float64Array(0), sampleRateHz);
  const bytes = 4 * samples.length;
  head.writeUInt32LE(36 + bytes, 4);
  head.writeUInt16LE(3, 20);
  head.writeUInt32LE(4 * sampleRateHz, 28);
  head.writeUInt16LE(4, 32);
  head.writeUInt16LE(32, 34);
  head.writeUInt32LE(bytes, 40);
  return Buffer.concat([head, Buffer.from(samples.buffer, samples.byteOffset, bytes)]);
}
