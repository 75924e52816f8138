import {renderRateHz} from "../player/rendering.ts";

const fadeSeconds = 0.01;
/** A source is told to start so far ahead, so that it does not start late. */
const aheadSeconds = 0.015;

/** A place in the build: the stage, counted from 0, and how far into it. */
export type Place = Readonly<{stage: number; seconds: number}>;

/** Plays stages one after the other, without a gap, each as soon as it is there. */
export type StagePlayer = Readonly<{
  /** Has a stage at hand from now on, samples at the rendering rate; plays it if it is waited for. */
  take: (stage: number, samples: Float32Array<ArrayBuffer>) => void;
  has: (stage: number) => boolean;
  /** Lets go of all stages: others are to come. */
  forget: () => void;
  /** Plays from here on; what sounds is cross-faded from once the stage is there, and goes on until then. */
  play: (from: Place) => void;
  stop: () => void;
  /** Where it is; undefined while nothing sounds. */
  place: () => Place | undefined;
  /** The stage that is to be played and is not there yet. */
  awaited: () => number | undefined;
  /** Gain from 0 to 1. */
  volume: (gain: number) => void;
}>;

export type StagePlayerEvents = Readonly<{
  /** The last of `stages` has been played to its end. */
  onEnd: () => void;
  onInterrupted: () => void;
}>;

type Sounding = Readonly<{stage: number; source: AudioBufferSourceNode; fade: GainNode; at: number; from: number}>;

/**
 * Opens the sound device. Called from a press only, and before what takes long: a browser that lets a press open the device
 * may have forgotten it once a sound is worked out.
 */
export async function stagePlayer(stages: number, {onEnd, onInterrupted}: StagePlayerEvents): Promise<StagePlayer> {
  const context = new AudioContext();
  const master = context.createGain();
  master.connect(context.destination);
  await context.resume();
  const buffers = new Map<number, AudioBuffer>();
  let playing: Sounding | undefined;
  /** Set to begin on the sample that the one before ends on. */
  let following: Sounding | undefined;
  let waited: Place | undefined;

  const start = (stage: number, buffer: AudioBuffer, at: number, from: number): Sounding => {
    const source = new AudioBufferSourceNode(context, {buffer});
    const fade = context.createGain();
    source.connect(fade).connect(master);
    source.start(at, from);
    source.addEventListener("ended", () => ended(source));
    return {stage, source, fade, at, from};
  };
  const release = ({source, fade}: Sounding, at: number) => {
    fade.gain.setValueAtTime(1, at);
    fade.gain.linearRampToValueAtTime(0, at + fadeSeconds);
    source.stop(at + fadeSeconds + 0.01);
  };
  const endOf = ({at, from, source}: Sounding) => at + (source.buffer?.duration ?? 0) - from;
  const dropFollowing = () => {
    following?.source.stop();
    following = undefined;
  };
  const follow = () => {
    if (!playing || following) return;
    const buffer = buffers.get(playing.stage + 1);
    if (buffer) following = start(playing.stage + 1, buffer, endOf(playing), 0);
  };
  const goTo = ({stage, seconds}: Place, buffer: AudioBuffer) => {
    const at = context.currentTime + aheadSeconds;
    dropFollowing();
    if (playing) release(playing, at);
    playing = start(stage, buffer, at, seconds);
    playing.fade.gain.setValueAtTime(0, at);
    playing.fade.gain.linearRampToValueAtTime(1, at + fadeSeconds);
    waited = undefined;
    follow();
  };
  const ended = (source: AudioBufferSourceNode) => {
    if (playing?.source !== source) return;
    const {stage} = playing;
    [playing, following] = [following, undefined];
    if (playing) return follow();
    // A stage that was pressed comes before the one whose turn it is.
    if (stage + 1 < stages || waited) waited ??= {stage: stage + 1, seconds: 0};
    else onEnd();
  };
  context.addEventListener("statechange", () => {
    if (context.state === "running" || !playing) return;
    // Else it would go on by itself once the device does.
    playing.source.stop();
    dropFollowing();
    playing = waited = undefined;
    onInterrupted();
  });

  return {
    take(stage, samples) {
      const buffer = context.createBuffer(1, samples.length, renderRateHz);
      buffer.copyToChannel(samples, 0);
      buffers.set(stage, buffer);
      if (waited?.stage === stage) goTo(waited, buffer);
      else follow();
    },
    has: (stage) => buffers.has(stage),
    forget: () => buffers.clear(),
    play(from) {
      void context.resume();
      const buffer = buffers.get(from.stage);
      if (buffer) goTo(from, buffer);
      else waited = from;
    },
    stop() {
      dropFollowing();
      if (playing) release(playing, context.currentTime + 0.005);
      playing = waited = undefined;
    },
    place() {
      const sounding = following && following.at <= context.currentTime ? following : playing;
      if (!sounding) return undefined;
      const {stage, at, from} = sounding;
      return {stage, seconds: Math.max(from, from + context.currentTime - at)};
    },
    awaited: () => waited?.stage,
    volume: (gain) => void master.gain.setTargetAtTime(gain, context.currentTime, 0.02),
  };
}
