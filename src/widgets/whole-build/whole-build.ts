import type {Cue} from "../../engine/sound/cue-list.ts";
import {equalLoudnessGains} from "../../engine/sound/equal-loudness.ts";
import {amplitude, peak} from "../../engine/sound/samples.ts";
import {playedLoudness} from "../player/played-loudness.ts";
import type {Rendering} from "../player/rendering.ts";
import {renderRateHz} from "../player/rendering.ts";

/** A stage of the build: the lesson that makes it and its address, its name, and what it adds. */
export type Stage = Readonly<{lesson: number; href?: string | undefined; name: string; adds: string}>;

/** At each joint the one before fades out and the next fades in, in seconds: no click, and no stage runs into another. */
const fadeSeconds = 0.01;

/**
 * All stages one after the other, each as loud as the others by BS.1770 and none above −1 dBFS; samples at `renderRateHz`.
 *
 * A silent stage stays silent.
 */
export function wholeBuild(stages: readonly Rendering[]): Float32Array<ArrayBuffer> {
  const gains = equalLoudnessGains(
    stages.map(({samples, loudness}) => ({loudness, peak: peak(samples)})),
    playedLoudness,
  );
  const whole = new Float32Array(stages.reduce((sum, {samples}) => sum + samples.length, 0));
  const fade = Math.round(fadeSeconds * renderRateHz);
  let at = 0;
  for (const [k, {samples}] of stages.entries()) {
    const gain = amplitude(gains[k] ?? 0);
    for (let n = 0; n < samples.length; n++) {
      const edge = Math.min(n, samples.length - 1 - n);
      const share = edge < fade ? 0.5 - 0.5 * Math.cos((Math.PI * edge) / fade) : 1;
      whole[at + n] = gain * share * (samples[n] ?? 0);
    }
    at += samples.length;
  }
  return whole;
}

/** Where each stage begins and ends when every one of them lasts `phraseSeconds`. */
export function stageCues(stages: readonly Stage[], phraseSeconds: number): readonly Cue[] {
  return stages.map(({lesson, name, adds}, k) => ({
    startSeconds: k * phraseSeconds,
    endSeconds: (k + 1) * phraseSeconds,
    name: `${lesson}. ${name}`,
    about: adds,
  }));
}
