import type {Samples} from "./samples.ts";

/** What a WAV file holds: its channels, each of the same length, full scale 1. */
export type Recording = Readonly<{sampleRateHz: number; channels: readonly Float32Array[]}>;

/**
 * A WAV file of one channel, whole-number PCM, 24 bit by default.
 *
 * Samples beyond full scale are clamped; what is not a number is silence. Rounded to the nearest step, without dither.
 *
 * Format: RIFF/WAVE with a 16-byte `fmt ` chunk of tag 1 (Multimedia Programming Interface and Data Specifications 1.0,
 * 1991) [from memory].
 */
export function wavFile(samples: Samples, sampleRateHz: number, bits: 16 | 24 = 24): Uint8Array<ArrayBuffer> {
  const bytesPerSample = bits / 8;
  const dataBytes = samples.length * bytesPerSample;
  const file = new Uint8Array(44 + dataBytes + (dataBytes % 2));
  const view = new DataView(file.buffer);
  const tag = (at: number, text: string) =>
    file.set(
      Array.from(text, (letter) => letter.charCodeAt(0)),
      at,
    );
  tag(0, "RIFF");
  view.setUint32(4, file.length - 8, true);
  tag(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, sampleRateHz * bytesPerSample, true);
  view.setUint16(32, bytesPerSample, true);
  view.setUint16(34, bits, true);
  tag(36, "data");
  view.setUint32(40, dataBytes, true);
  const fullScale = 2 ** (bits - 1);
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i] as number;
    const step = Math.max(-fullScale, Math.min(fullScale - 1, Math.round((Number.isNaN(x) ? 0 : x) * fullScale)));
    for (let byte = 0; byte < bytesPerSample; byte++) {
      file[44 + i * bytesPerSample + byte] = (step >> (8 * byte)) & 255;
    }
  }
  return file;
}

/**
 * Reads a WAV file: PCM of 16 or 24 bit or floats of 32 bit, any number of channels, other chunks passed over.
 *
 * @throws {RangeError} where the file is something else; the message says what
 */
export function readWav(file: Uint8Array): Recording {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const tag = (at: number) => String.fromCharCode(...file.subarray(at, at + 4));
  if (file.length < 12 || tag(0) !== "RIFF" || tag(8) !== "WAVE") throw new RangeError("not a WAV file");
  let format: {channels: number; sampleRateHz: number; bits: number} | undefined;
  for (
    let at = 12;
    at + 8 <= file.length;
    at += 8 + view.getUint32(at + 4, true) + (view.getUint32(at + 4, true) % 2)
  ) {
    const bytes = view.getUint32(at + 4, true);
    if (tag(at) === "fmt " && at + 24 <= file.length) {
      const tagged = view.getUint16(at + 8, true);
      // 0xFFFE is the extensible form: the kind then begins the subformat, 24 bytes into the chunk.
      const kind = tagged === 0xfffe && bytes >= 40 && at + 34 <= file.length ? view.getUint16(at + 32, true) : tagged;
      const bits = view.getUint16(at + 22, true);
      const channels = view.getUint16(at + 10, true);
      const known = (kind === 1 && (bits === 16 || bits === 24)) || (kind === 3 && bits === 32);
      if (!known || channels === 0) {
        throw new RangeError(
          `WAV of kind ${kind} with ${bits} bits in ${channels} channels; 16 and 24 bit PCM and 32 bit floats are read`,
        );
      }
      format = {channels, sampleRateHz: view.getUint32(at + 12, true), bits};
    }
    if (tag(at) === "data" && format !== undefined) return recording(view, at + 8, bytes, format);
  }
  throw new RangeError("WAV file without samples");
}

function recording(
  view: DataView,
  start: number,
  bytes: number,
  {channels, sampleRateHz, bits}: {channels: number; sampleRateHz: number; bits: number},
): Recording {
  const bytesPerSample = bits / 8;
  // A file cut short is read as far as it goes.
  const length = Math.floor(Math.min(bytes, view.byteLength - start) / (bytesPerSample * channels));
  const fullScale = 2 ** (bits - 1);
  const sample = (at: number) => {
    if (bits === 32) return view.getFloat32(at, true);
    return (
      (bits === 16 ? view.getInt16(at, true) : (view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / fullScale
    );
  };
  return {
    sampleRateHz,
    channels: Array.from({length: channels}, (_, channel) =>
      Float32Array.from({length}, (_, i) => sample(start + (i * channels + channel) * bytesPerSample)),
    ),
  };
}
