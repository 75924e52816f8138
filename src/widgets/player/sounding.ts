import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import type {Watched} from "../sound-picture/sound-picture.element.ts";
import type {Voice} from "./mix.ts";

/** The bench as it sounds. */
export type Sounding = Readonly<{
  sampleRateHz: number;
  /** Plays this over and over, at `sampleRateHz`. */
  loop: (samples: Float32Array) => void;
  /**
   * Plays what comes from an input instead, hardest strum or not, `scale` times as large; undefined goes back to the loop.
   * Undefined where this sounding has no way to.
   */
  input?: (stream: MediaStream | undefined, scale: number) => void;
  /** What goes into the circuit and comes out of it, to be drawn. Undefined where this sounding does not run it live. */
  watched?: () => Watched;
  /** Seconds from the sound's making to the ear, as far as the browser knows them. */
  latencySeconds?: () => number;
  /**
   * Puts a bench under a voice, or takes it away; while it plays, the change is heard without a click. A stage is put beside the
   * one before it, and heard when it is asked for.
   */
  put: (voice: Voice, setting: BenchSetting | undefined) => void;
  /** Full scale for each volt of a voice. */
  gain: (voice: Voice, perVolt: number) => void;
  /** Plays this voice; another is changed over from at the same place. */
  hear: (voice: Voice) => void;
  /** Whether a loudspeaker stands behind the amplifier's input. */
  loudspeaker: (on: boolean) => void;
  /** Gain from 0 to 1, behind the limiter. */
  volume: (gain: number) => void;
  resume: () => Promise<void>;
  /** Fades out and lets the device rest. */
  stop: () => void;
  onInterrupted: (act: () => void) => void;
  /** Told when it has failed for good and is closed: another has to take its place. */
  onBroken?: (act: () => void) => void;
  /** Told many times a second how many seconds into its loop the sound is. */
  onPlace?: (act: (seconds: number) => void) => void;
  /** Told when the sound had to be made more coarsely: by what factor its rate is raised now. */
  onSlow: (act: (oversampling: number) => void) => void;
}>;
