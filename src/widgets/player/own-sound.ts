import {mono, peak, scaled} from "../../engine/sound/samples.ts";
import {renderRateHz} from "./rendering.ts";

const longestMinutes = 10;
const usedSeconds = 30;
const largestBytes = 200e6;

/** A sound file of the reader's own, made ready to play, or a sentence that says why it can't be. */
export type OwnSound = Readonly<{ok: true; sound: Float32Array; message: string} | {ok: false; message: string}>;

/** Reads a sound file: decoded by the browser, mixed to mono at the rendering rate, peak brought to 1. Nothing is sent anywhere. */
export async function ownSound(file: File): Promise<OwnSound> {
  const name = file.name.length > 40 ? `${file.name.slice(0, 40)}…` : file.name;
  if (file.size === 0) return wrong(`“${name}” is empty. Choose a file with sound in it.`);
  if (file.size > largestBytes)
    return wrong(`“${name}” is too large to open here. Cut out the half minute you want to hear.`);
  const seconds = await statedSeconds(file);
  if (seconds > longestMinutes * 60) {
    return wrong(
      `“${name}” lasts ${Math.round(seconds / 60)} minutes. Up to ${longestMinutes} can be opened: cut out the half minute you want to hear.`,
    );
  }
  try {
    const decoder = new OfflineAudioContext(1, 1, renderRateHz);
    return prepared(name, await decoder.decodeAudioData(await file.arrayBuffer()));
  } catch {
    return wrong(`“${name}” could not be read as sound. Try a WAV, MP3, OGG or M4A file.`);
  }
}

function prepared(name: string, buffer: AudioBuffer): OwnSound {
  if (buffer.duration > longestMinutes * 60)
    return wrong(`“${name}” is longer than ${longestMinutes} minutes. Cut out the half minute you want to hear.`);
  // Cut before it is mixed: ten minutes of two channels would hold the page up.
  const channels = Array.from({length: buffer.numberOfChannels}, (_, k) =>
    buffer.getChannelData(k).subarray(0, usedSeconds * renderRateHz),
  );
  const used = scaled(mono(channels), 1);
  if (used.length < renderRateHz / 2) return wrong(`“${name}” is shorter than half a second. Choose a longer one.`);
  const highest = peak(used);
  if (!(highest > 1e-4)) return wrong(`“${name}” is silent. Choose a file with sound in it.`);
  const cut = buffer.length > used.length ? ` Its first ${usedSeconds} seconds are used.` : "";
  return {ok: true, sound: faded(scaled(used, 1 / highest)), message: `Playing “${name}” through the circuit.${cut}`};
}

/** Both ends faded in 5 ms, so that the loop's seam does not click. */
function faded(samples: Float32Array): Float32Array {
  const length = Math.round(0.005 * renderRateHz);
  for (let n = 0; n < length; n++) {
    const gain = n / length;
    samples[n] = (samples[n] ?? 0) * gain;
    const last = samples.length - 1 - n;
    samples[last] = (samples[last] ?? 0) * gain;
  }
  return samples;
}

/** How long a file says it is, in seconds, read from its head alone; 0 where it does not say. */
function statedSeconds(file: File): Promise<number> {
  return new Promise((resolve) => {
    const url = URL.createObjectURL(file);
    const audio = new Audio();
    const done = (seconds: number) => {
      URL.revokeObjectURL(url);
      resolve(Number.isFinite(seconds) ? seconds : 0);
    };
    audio.preload = "metadata";
    audio.addEventListener("loadedmetadata", () => done(audio.duration));
    audio.addEventListener("error", () => done(0));
    setTimeout(() => done(0), 4000);
    audio.src = url;
  });
}

const wrong = (message: string): OwnSound => ({ok: false, message});
