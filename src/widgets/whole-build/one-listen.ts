import {renderRateHz} from "../player/rendering.ts";

const fadeSeconds = 0.01;
const piece = 10 * renderRateHz;

/** A long sound that is played through once, from any place. */
export type OneListen = Readonly<{
  /** What is played from now on; samples at the rendering rate. Resolves when it is ready. */
  take: (samples: Float32Array<ArrayBuffer>) => Promise<void>;
  /** Plays from here; what plays is cross-faded from. */
  play: (fromSeconds: number) => void;
  stop: () => void;
  /** How far it has come, in seconds; undefined while nothing plays. */
  seconds: () => number | undefined;
  /** Gain from 0 to 1. */
  volume: (gain: number) => void;
}>;

export type OneListenEvents = Readonly<{onEnd: () => void; onInterrupted: () => void}>;

/**
 * Opens the sound device. Called from a press only, and before what takes long: a browser that lets a press open the device
 * may have forgotten it once a sound is worked out.
 */
export async function oneListen({onEnd, onInterrupted}: OneListenEvents): Promise<OneListen> {
  const context = new AudioContext({latencyHint: "playback"});
  const master = context.createGain();
  master.connect(context.destination);
  await context.resume();
  let buffer: AudioBuffer | undefined;
  let playing: {source: AudioBufferSourceNode; fade: GainNode; at: number; from: number} | undefined;

  const release = ({source, fade}: NonNullable<typeof playing>, at: number) => {
    fade.gain.setValueAtTime(1, at);
    fade.gain.linearRampToValueAtTime(0, at + fadeSeconds);
    source.stop(at + fadeSeconds + 0.01);
  };
  context.addEventListener("statechange", () => {
    if (context.state === "running" || !playing) return;
    // Else it would go on by itself once the device does.
    playing.source.stop();
    playing = undefined;
    onInterrupted();
  });

  return {
    async take(samples) {
      const whole = context.createBuffer(1, samples.length, renderRateHz);
      // Two minutes copied at once would hold the page up.
      for (let at = 0; at < samples.length; at += piece) {
        whole.copyToChannel(samples.subarray(at, at + piece), 0, at);
        await new Promise((resolve) => setTimeout(resolve));
      }
      buffer = whole;
    },
    play(from) {
      if (!buffer) throw new Error("there is nothing to play yet");
      void context.resume();
      const source = new AudioBufferSourceNode(context, {buffer});
      const fade = context.createGain();
      source.connect(fade).connect(master);
      const at = context.currentTime + 0.015;
      fade.gain.setValueAtTime(0, at);
      fade.gain.linearRampToValueAtTime(1, at + fadeSeconds);
      source.start(at, from);
      source.addEventListener("ended", () => {
        if (playing?.source !== source) return;
        playing = undefined;
        onEnd();
      });
      if (playing) release(playing, at);
      playing = {source, fade, at, from};
    },
    stop() {
      if (playing) release(playing, context.currentTime + 0.005);
      playing = undefined;
    },
    seconds: () => playing && Math.max(playing.from, playing.from + context.currentTime - playing.at),
    volume: (gain) => void master.gain.setTargetAtTime(gain, context.currentTime, 0.02),
  };
}
