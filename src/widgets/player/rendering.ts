import {finished, timeResponsePart} from "../../engine/analysis/time-response.ts";
import type {Circuit} from "../../engine/circuit/circuit.ts";
import type {NodeName} from "../../engine/circuit/part.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {filtered} from "../../engine/sound/biquad.ts";
import {loudnessWhenPlayed} from "../../engine/sound/loudness.ts";
import {loudspeakerFilters} from "../../engine/sound/loudspeaker.ts";
import {scaled} from "../../engine/sound/samples.ts";
import {fullScalePerVolt} from "../../engine/sound/volts.ts";
import {playedLoudness} from "./played-loudness.ts";

/** Sample rate of every rendering, in hertz; the browser brings it to the device's own. */
export const renderRateHz = 48_000;

/** One bench heard: samples in full scale at `renderRateHz`, and their loudness in LUFS. */
export type Rendering = Readonly<{samples: Float32Array; loudness: number}>;

/**
 * A sound of peak 1 through the circuit of a bench, at the level it has at the amplifier's input, and through a plain loudspeaker.
 *
 * The sound is a loop: its end is played once before its start, so that what the circuit remembers closes the seam.
 */
export function rendered(setting: BenchSetting, sound: Float32Array, loudspeaker = true): Rendering {
  return finished(renderedPart(setting, sound, loudspeaker));
}

/** A circuit's output from rest while samples are played, the share that is done now and then: `timeResponsePart`, or a closer one. */
export type Respond = (
  circuit: Circuit,
  output: NodeName,
  signalVolts: Float64Array,
  sampleRateHz: number,
) => Generator<number, Float64Array>;

const asPlayed: Respond = (circuit, output, signalVolts, sampleRateHz) =>
  timeResponsePart(circuit, output, signalVolts, sampleRateHz, {fromRest: true});

/** The same, giving the share that is done now and then; `respond` closer than by default is for files, where time matters less. */
export function* renderedPart(
  setting: BenchSetting,
  sound: Float32Array,
  loudspeaker: boolean,
  respond = asPlayed,
): Generator<number, Rendering> {
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
  const lead = Math.min(sound.length, renderRateHz / 2);
  const volts = new Float64Array(sound.length + lead);
  for (let n = 0; n < volts.length; n++) {
    volts[n] = phrasePeakVolts * (sound[(n - lead + sound.length) % sound.length] ?? 0);
  }
  const atAmplifier = yield* respond(circuit, listenAt, volts, renderRateHz);
  const heard = (loudspeaker ? filtered(atAmplifier, loudspeakerFilters(renderRateHz)) : atAmplifier).subarray(lead);
  const samples = scaled(heard, fullScalePerVolt);
  return {samples, loudness: loudnessWhenPlayed(samples, renderRateHz, playedLoudness)};
}
