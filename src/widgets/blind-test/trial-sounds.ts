import {loop, type Loop} from "../player/loop.ts";
import type {Side} from "./blind-test.ts";

/** What can be played in a trial. */
export type Heard = Side | "x";

/** A, B and X of a test, one at a time and at the same place of the phrase. */
export type TrialSounds = Readonly<{
  /** Makes X one of the two from now on. */
  fresh: (x: Side) => void;
  /** Plays one, from the start or where the one before it was. Opens the sound device the first time: from a press only. */
  play: (heard: Heard) => Promise<void>;
  stop: () => void;
  /** Gain from 0 to 1. */
  volume: (gain: number) => void;
}>;

/** One device for all tests of a page: each one opened would stay open. */
let device: Loop | undefined;
let interrupted = () => {};

function opened(): Loop {
  if (device) return device;
  device = loop({throughSilence: true});
  device.onInterrupted(() => interrupted());
  return device;
}

/**
 * The three sounds of a test. X lies in memory of its own, of the same length as A and B, and goes the same way to the ear:
 * neither its place nor its time tells which of them it is.
 */
export function trialSounds(pair: Readonly<Record<Side, Float32Array>>, onInterrupted: () => void): TrialSounds {
  const sounds: Readonly<Record<Heard, Float32Array>> = {a: pair.a, b: pair.b, x: new Float32Array(pair.a.length)};
  let wanted: Heard | undefined;
  let gain = 0;
  interrupted = onInterrupted;
  return {
    fresh: (x) => sounds.x.set(sounds[x]),
    async play(heard) {
      wanted = heard;
      const player = opened();
      player.volume(gain);
      await player.resume();
      // Stopped, or another one chosen, while the device woke up.
      if (wanted === heard) player.play(sounds[heard]);
    },
    stop() {
      wanted = undefined;
      device?.stop();
    },
    volume(to) {
      gain = to;
      device?.volume(to);
    },
  };
}
