import {mono, peak, scaled} from "../../engine/sound/samples.ts";
import {betweenTasks} from "./between-tasks.ts";
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
    return await prepared(name, await decoded(file, seconds), seconds);
  } catch {
    return wrong(`“${name}” could not be read as sound. Try a WAV, MP3, OGG or M4A file.`);
  }
}

/**
 * As much of a file as is used, at the rendering rate, or all of it. What a browser has decoded it hands over as one piece: ten minutes
 * would hold the page up, and a cut file that cannot be decoded is no worse than no file.
 */
async function decoded(file: File, seconds: number): Promise<AudioBuffer> {
  const decoder = new OfflineAudioContext(1, 1, renderRateHz);
  // Twice what is used: the bytes of some files lie unevenly.
  const share = (2 * usedSeconds) / seconds;
  if (share < 1) {
    const beginning = await file.slice(0, Math.ceil(share * file.size)).arrayBuffer();
    const buffer = await decoder.decodeAudioData(beginning).catch(() => undefined);
    if (buffer && buffer.duration >= usedSeconds) return buffer;
  }
  return decoder.decodeAudioData(await file.arrayBuffer());
}

/** @param stated seconds that the file says it lasts; 0 where it does not say */
async function prepared(name: string, buffer: AudioBuffer, stated: number): Promise<OwnSound> {
  if (buffer.duration > longestMinutes * 60)
    return wrong(`“${name}” is longer than ${longestMinutes} minutes. Cut out the half minute you want to hear.`);
  const channels = Array.from({length: buffer.numberOfChannels}, (_, k) => buffer.getChannelData(k));
  const length = Math.min(buffer.length, usedSeconds * renderRateHz);
  if (length < renderRateHz / 2) return wrong(`“${name}” is shorter than half a second. Choose a longer one.`);
  const sound = await betweenTasks(loopOf(channels, length));
  if (!sound) return wrong(`“${name}” is silent. Choose a file with sound in it.`);
  const cut = Math.max(stated, buffer.duration) > usedSeconds ? ` Its first ${usedSeconds} seconds are used.` : "";
  return {ok: true, sound, message: `Playing “${name}” through the circuit.${cut}`};
}

/** So many samples of the channels mixed to one, peak 1, ready to be looped; undefined for silence. Yields after each second. */
function* loopOf(channels: readonly Float32Array[], length: number): Generator<undefined, Float32Array | undefined> {
  const sound = new Float32Array(length);
  let highest = 0;
  for (let from = 0; from < length; from += renderRateHz) {
    const to = Math.min(length, from + renderRateHz);
    const part = scaled(mono(channels.map((channel) => channel.subarray(from, to))), 1);
    highest = Math.max(highest, peak(part));
    sound.set(part, from);
    yield;
  }
  if (!(highest > 1e-4)) return undefined;
  for (let from = 0; from < length; from += renderRateHz) {
    sound.set(scaled(sound.subarray(from, from + renderRateHz), 1 / highest), from);
    yield;
  }
  return faded(sound);
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
