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

/**
 * The three sounds of a test. X lies in memory of its own, of the same length as A and B, and goes the same way to the ear:
 * neither its place nor its time tells which of them it is.
 */
export function trialSounds(pair: Readonly<Record<Side, Float32Array>>, onInterrupted: () => void): TrialSounds {
  const sounds: Readonly<Record<Heard, Float32Array>> = {a: pair.a, b: pair.b, x: new Float32Array(pair.a.length)};
  let player: Loop | undefined;
  let gain = 0;
  return {
    fresh: (x) => sounds.x.set(sounds[x]),
    async play(heard) {
      if (!player) {
        player = loop({throughSilence: true});
        player.onInterrupted(onInterrupted);
      }
      player.volume(gain);
      await player.resume();
      player.play(sounds[heard]);
    },
    stop: () => player?.stop(),
    volume(to) {
      gain = to;
      player?.volume(to);
    },
  };
}
