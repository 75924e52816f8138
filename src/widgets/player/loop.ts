import {renderRateHz} from "./rendering.ts";

const fadeSeconds = 0.01;

/** A loop that plays one buffer at a time and changes over to another at the same place. */
export type Loop = Readonly<{
  /** Plays these samples: from the start if nothing plays, else cross-fading at the place the loop has reached. */
  play: (samples: Float32Array) => void;
  stop: () => void;
  /** Gain from 0 to 1. */
  volume: (gain: number) => void;
  resume: () => Promise<void>;
  onInterrupted: (act: () => void) => void;
}>;

/**
 * Opens the sound device. Called from a press only: nothing sounds by itself.
 *
 * The fade is linear: voices of one phrase are alike, and two weights that add up to 1 keep the sum of two sounds that
 * are each below the ceiling below it too. With `throughSilence` the old one fades out before the new one fades in, so
 * that a change sounds the same whatever the two are: in a cross-fade, two that run ahead of each other partly cancel, and
 * a sound that changes over to itself does not.
 */
export function loop({throughSilence = false}: {throughSilence?: boolean} = {}): Loop {
  const context = new AudioContext({latencyHint: "interactive"});
  const master = context.createGain();
  master.connect(context.destination);
  let playing: {source: AudioBufferSourceNode; fade: GainNode; seconds: number} | undefined;
  let startedAt = 0;

  const release = ({source, fade}: NonNullable<typeof playing>, at: number) => {
    fade.gain.setValueAtTime(1, at);
    fade.gain.linearRampToValueAtTime(0, at + fadeSeconds);
    source.stop(at + fadeSeconds + 0.01);
  };

  return {
    play(samples) {
      const buffer = context.createBuffer(1, samples.length, renderRateHz);
      buffer.copyToChannel(samples as Float32Array<ArrayBuffer>, 0);
      const source = context.createBufferSource();
      source.buffer = buffer;
      source.loop = true;
      const fade = context.createGain();
      source.connect(fade).connect(master);
      const at = context.currentTime + 0.015;
      if (!playing || playing.seconds !== buffer.duration) startedAt = at;
      const rises = at + (throughSilence && playing ? fadeSeconds : 0);
      fade.gain.setValueAtTime(0, at);
      fade.gain.setValueAtTime(0, rises);
      fade.gain.linearRampToValueAtTime(1, rises + fadeSeconds);
      source.start(at, (at - startedAt) % buffer.duration);
      if (playing) release(playing, at);
      playing = {source, fade, seconds: buffer.duration};
    },
    stop() {
      if (playing) release(playing, context.currentTime + 0.005);
      playing = undefined;
    },
    volume(gain) {
      master.gain.setTargetAtTime(gain, context.currentTime, 0.02);
    },
    async resume() {
      if (context.state !== "running") await context.resume();
    },
    onInterrupted(act) {
      context.addEventListener("statechange", () => {
        if (context.state !== "running" && playing) act();
      });
    },
  };
}
